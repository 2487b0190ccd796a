using System.Globalization;
using Leadwright.Client.Surveys;
using Leadwright.Core.Hookups;
using Leadwright.Core.Planning;
using Leadwright.Reports.Planning;

namespace Leadwright.Client.Model.Waiting;

/// <summary>A plan as a survey keeps it: what it says of the panel, and its outcome in words.</summary>
public static class KeptPlan
{
    /// <summary>The plan of a board.</summary>
    /// <param name="board">The board; its plan is worked out.</param>
    public static PlanKeep Of(PlanBoard board)
    {
        ArgumentNullException.ThrowIfNull(board);
        var sheet = board.Sheet ?? throw new ArgumentException("There is no plan yet.", nameof(board));
        var plan = sheet.Plan;
        string[] lines =
        [
            string.Create(CultureInfo.InvariantCulture, $"Interval {PlanWording.Seconds(sheet.IntervalSeconds)}, {sheet.Days:0.##} days."),
            plan.ExpectedWatts is { } watts ? string.Create(CultureInfo.InvariantCulture, $"Expected power {watts / 1000:0.##} kW.") : "",
            plan.ExpectedAmperes is { } amperes ? string.Create(CultureInfo.InvariantCulture, $"Expected current {amperes:0.#} A.") : "",
            sheet.SuitableRangeAmperes is { } range ? string.Create(CultureInfo.InvariantCulture, $"A clamp range of {range:0} A suits.") : "",
            PlanWording.Clamp(sheet), PlanWording.Memory(sheet),
            .. sheet.Warnings.Select(warning => PlanWording.Warning(warning, sheet)),
        ];
        return new PlanKeep(Service.Of(plan.Service).Name, plan.Nominal.ToString(), plan.FrequencyHertz)
        {
            Load = plan.Load.ToString(),
            MayExport = plan.MayExport,
            Learn = [.. plan.Purposes.Select(PlanMaker.WordOf)],
            Text = string.Join('\n', lines.Where(line => line.Length > 0)),
        };
    }
}
