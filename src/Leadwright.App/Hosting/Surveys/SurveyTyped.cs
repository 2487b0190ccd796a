using Leadwright.Core.Circuits;
using Leadwright.Surveys;

namespace Leadwright.App.Hosting.Surveys;

/// <summary>What was typed for a new survey, as the store takes it.</summary>
internal static class SurveyTyped
{
    /// <summary>The survey to make.</summary>
    /// <exception cref="SurveyException">The nominal voltage is none of the service.</exception>
    public static NewSurvey Of(Client.Surveys.NewSurvey typed)
    {
        var service = Core.Hookups.Service.Named(typed.Service);
        if (service is not null && typed.Nominal.Trim().Length > 0 && !NominalVoltage.TryParse(typed.Nominal.Trim(), service.Kind, out _))
            throw new SurveyException(SurveyProblem.Refused, $"'{typed.Nominal.Trim()}' is no nominal voltage of that service. Write it as on the nameplate, such as 230/400 or 480.");
        return Made(typed);
    }

    private static NewSurvey Made(Client.Surveys.NewSurvey typed) => new(Cut(typed.Name, 120))
    {
        Site = new SurveySite { Name = Cut(typed.Name, 120), Place = Cut(typed.Place, 300) },
        Panel = new SurveyPanel
        {
            Service = Core.Hookups.Service.Named(typed.Service)?.Name,
            Nominal = string.IsNullOrWhiteSpace(typed.Nominal) ? null : Cut(typed.Nominal, 20),
            FrequencyHertz = typed.FrequencyHertz is 50 or 60 ? typed.FrequencyHertz : null,
            MayExport = typed.MayExport,
        },
    };

    private static string Cut(string text, int most) => text.Trim() is var trimmed && trimmed.Length > most ? trimmed[..most] : trimmed;
}
