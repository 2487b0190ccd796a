using System.Globalization;
using Leadwright.Client.Surveys;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Surveys;
using Leadwright.Surveys.Journal;

namespace Leadwright.App.Hosting.Surveys;

/// <summary>Plans that were made on a screen, with or without a connection, as the survey takes them.</summary>
internal static class SurveyPlanDesk
{
    private const int MostText = 4000;

    /// <summary>Keeps a plan, and what it says of the panel.</summary>
    /// <param name="survey">The survey, open to write.</param>
    /// <param name="plan">The plan.</param>
    /// <returns>What is wrong with it; empty when it was kept, now or before.</returns>
    public static (int Status, string Problem) Keep(SurveyFolder survey, PlanKeep plan)
    {
        if (DeviceMark.IsThere(survey, plan.Id)) return (0, "");
        if (Service.Named(plan.Service) is not { } service || !NominalVoltage.TryParse(plan.Nominal, service.Kind, out _))
            return (StatusCodes.Status400BadRequest, $"The plan can't be kept: '{plan.Nominal}' is no nominal voltage of the service '{plan.Service}'. Make the plan again.");
        if (plan.Text.Length > MostText || plan.Learn.Any(word => word.Length > 100) || plan.Learn.Length > 20)
            return (StatusCodes.Status400BadRequest, string.Create(CultureInfo.InvariantCulture, $"The plan can't be kept: its text has {plan.Text.Length} letters, {MostText} are taken."));
        if (!plan.IsOver && plan.Made is { } made && survey.Entries.LastOrDefault(entry => entry.At > made && (entry.Payload is PlanChanged or SiteChanged) && entry.Why != With(plan)) is { } other)
            return (StatusCodes.Status409Conflict, string.Create(CultureInfo.InvariantCulture, $"{other.Who} changed site or plan in the survey at {other.At:yyyy-MM-dd HH:mm} UTC, after this plan was made. Nothing was written over."));

        var state = survey.State;
        var panel = state.Panel with
        {
            Service = service.Name,
            Nominal = plan.Nominal,
            FrequencyHertz = plan.FrequencyHertz is 50 or 60 ? plan.FrequencyHertz : state.Panel.FrequencyHertz,
            Load = Enum.TryParse<LoadKind>(plan.Load, ignoreCase: true, out var load) && load != LoadKind.Mixed ? load.ToString().ToLowerInvariant() : null,
            MayExport = plan.MayExport,
        };
        if (panel != state.Panel) survey.Append(new SiteChanged(state.Title, state.Site, panel), With(plan));

        // The number goes with the last entry: half of it in the journal is done again, and never taken for the whole.
        survey.Append(new PlanChanged(state.Plan with { Learn = plan.Learn, Text = plan.Text }), DeviceMark.Of(plan.Id, plan.Made));
        return (0, "");
    }

    private static string With(PlanKeep plan) => plan.Id.Length > 0 ? $"With plan {plan.Id}, which follows." : "With the plan that follows.";
}
