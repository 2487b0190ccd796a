using System.Collections.Immutable;
using Leadwright.Core.Studies;
using Leadwright.Core.Studies.Events;
using Leadwright.Core.Studies.Findings;
using Leadwright.Core.Studies.Limits;
using Leadwright.Core.Studies.Load;
using Leadwright.Formats.Limits;
using Leadwright.Reports.Studies;

namespace Leadwright.Reports.Tests.Studies;

/// <summary>A study with everything in it.</summary>
internal static class WholeStudy
{
    private static readonly ImmutableArray<LimitTable> s_tables = [.. LimitTableReader.Shipped.Select(name => LimitTableReader.Read(LimitTableReader.ShippedFile(name)!))];

    public static StudyDocument Of(StudyData data, ImmutableArray<StudyEvent>? events = null)
    {
        var load = LoadStudy.Of(data, new LoadStudyOptions
        {
            Opening = TariffReader.ParseHours("mon-fri 08:00-18:00"), Rating = new FeederRating(200) { NewWatts = 1000, PhaseCount = 3, Volts = 400 }, CableAmperes = 180,
            BilledWattHours = 1e6, BilledDays = 30, BilledWatts = 5e4, ShortCircuitVoltAmperes = 1e6, EddyLoss = 0.1,
        });
        var site = new LimitSite { NominalHertz = 50, LineVolts = 400, CurrentRatio = 30, DemandAmperes = 100, System = "480Y/277" };
        var document = new StudyDocument
        {
            File = "any.csv", Service = "wye", Data = data, Load = load, Voltages = VoltageLevel.Of(data),
            UnbalancePercent = data.Series(Core.Logs.LogQuantity.VoltageUnbalance, Core.Logs.LogPlace.Whole)?.Percentile(95) ?? double.NaN,
            Events = events,
            Limits = [.. s_tables.Select(table => new LimitReport(table, LimitCheck.Judge(data, table, site)))],
            WorstDays = WorstDays.Of(data, load, events ?? []),
            Patterns = EventPatterns.Of(data, load?.Power, events),
            CannotShow = RecordLimits.Of(data, events is not null),
            Comparison = data.Log.Count > 1 ? StudyComparison.Of(data.Between(DateTime.MinValue, Middle(data)), data.Between(Middle(data), DateTime.MaxValue), 0.5) : null,
        };
        return document with
        {
            Findings = Finding.Of(
                StudyMetrics.Of(data, load, document.Voltages, events ?? [], document.Limits.SelectMany(report => report.Lines), document.Curves), FindingRuleReader.ReadShipped()),
        };
    }

    /// <summary>All that is written of a study, in one text.</summary>
    public static string Written(StudyDocument document) => string.Join(
        "\n\n", (string[])[StudyJson.Line(document), StudyText.Write(document), .. StudyTables.Of(document).Concat(StudyPlots.Of(document)).Select(file => $"{file.Name}\n{file.Content}")]);

    private static DateTime Middle(StudyData data) => new(data.Log.Starts.Span[data.Log.Count / 2]);
}
