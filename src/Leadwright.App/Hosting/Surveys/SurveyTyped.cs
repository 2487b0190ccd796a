using Leadwright.Surveys;

namespace Leadwright.App.Hosting.Surveys;

/// <summary>What was typed for a new survey, as the store takes it.</summary>
internal static class SurveyTyped
{
    /// <summary>The survey to make.</summary>
    public static NewSurvey Of(Client.Surveys.NewSurvey typed) => new(Cut(typed.Name, 120))
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
