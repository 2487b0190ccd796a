using System.Collections.Immutable;
using System.Text.Json;
using System.Xml.Linq;
using Leadwright.Core.Logs;
using Leadwright.Core.Studies;
using Leadwright.Core.Studies.Events;
using Leadwright.Core.Studies.Load;
using Leadwright.Reports.Studies;

namespace Leadwright.Reports.Tests.Studies;

/// <summary>What holds of a study whatever the log.</summary>
public sealed class AnyStudyTests
{
    private const int Logs = 150;

    [Fact]
    public void Whatever_stands_in_a_log_the_study_ends_and_writes_no_number_that_is_none() => Each(seed =>
    {
        var document = WholeStudy.Of(AnyLog.Make(seed), seed % 2 == 0 ? Events(seed) : null);
        using var json = JsonDocument.Parse(StudyJson.Line(document));
        Assert.Equal("leadwright.study/1", json.RootElement.GetProperty("schema").GetString());
        foreach (var file in StudyTables.Of(document).Append(new StudyFile("text", StudyText.Write(document))))
            Assert.DoesNotMatch("NaN|∞|Infinity", file.Content);
        foreach (var plot in StudyPlots.Of(document))
        {
            Assert.DoesNotMatch("NaN|∞|Infinity", plot.Content);
            _ = XDocument.Parse(plot.Content);
        }
    });

    [Fact]
    public void The_order_of_the_columns_changes_nothing() => Each(seed =>
    {
        var data = AnyLog.Make(seed);
        Assert.Equal(WholeStudy.Written(WholeStudy.Of(data)), WholeStudy.Written(WholeStudy.Of(AnyLog.Shuffled(data, seed + 1))));
    });

    [Fact]
    public void No_demand_lies_above_the_highest_value_and_none_below_the_mean_and_no_standing_is_better_than_its_parts() => Each(seed =>
    {
        var data = AnyLog.Make(seed, isTame: true);
        if (LoadStudy.Of(data, new LoadStudyOptions()) is not { } study) return;
        var highest = study.Power.SoundValues().DefaultIfEmpty(double.NaN).Max();
        foreach (var peak in study.Peaks.Where(peak => double.IsFinite(peak.Watts)))
        {
            Assert.True(peak.Watts <= highest * (1 + 1e-12), $"{peak}");
            Assert.True(peak.Watts >= peak.MeanWatts - (1e-9 * Math.Abs(peak.MeanWatts)), $"{peak}");
            Assert.True(peak.Weakest <= Standing.Mended);
            Assert.True(double.IsNaN(peak.LoadFactor) || peak.LoadFactor is >= 0 and <= 1 + 1e-9, $"{peak}");
        }

        Assert.True(study.Energy.KnownSeconds <= study.Energy.Seconds + 1e-6);
        Near(study.Energy.ImportWattHours, study.Days.Sum(row => row.ImportWattHours));
        Near(study.Energy.ImportWattHours, study.Hours.Sum(row => row.ImportWattHours));
        Near(study.Energy.ExportWattHours, study.Months.Sum(row => row.ExportWattHours));
        for (var at = 1; at < study.Duration.Length; at++) Assert.True(study.Duration[at] <= study.Duration[at - 1]);
    });

    // Twice is exact in binary numbers: no rounding hides a slip.
    [Fact]
    public void Twice_the_power_is_twice_the_energy_and_twice_the_demand_at_the_same_time() => Each(seed =>
    {
        var data = AnyLog.Make(seed, isTame: true);
        if (LoadStudy.Of(data, new LoadStudyOptions()) is not { } once) return;
        var twice = LoadStudy.Of(Twice(data), new LoadStudyOptions())!;
        Assert.Equal(2 * once.Energy.ImportWattHours, twice.Energy.ImportWattHours);
        Assert.Equal(2 * once.Energy.ExportWattHours, twice.Energy.ExportWattHours);
        Assert.Equal(once.LoadFactor, twice.LoadFactor);
        Assert.Equal(once.Peaks.Select(peak => (2 * peak.Watts, peak.From)), twice.Peaks.Select(peak => (peak.Watts, peak.From)));
    });

    // A value that is known but does not belong to the record must never make a limit pass.
    [Fact]
    public void A_log_of_estimates_alone_passes_no_limit() => Each(seed =>
    {
        var data = AnyLog.Make(seed);
        var standings = Enumerable.Repeat(Standing.Modelled, data.Log.Count).ToArray();
        data = data with { Standings = Enumerable.Range(0, data.Log.Columns.Length).ToImmutableDictionary(column => column, _ => (ReadOnlyMemory<Standing>)standings) };
        var document = WholeStudy.Of(data);
        Assert.All(document.Limits.SelectMany(report => report.Lines), line => Assert.Equal(Core.Studies.Limits.LimitVerdict.NotEnoughData, line.Verdict));
        Assert.All(document.Load?.Peaks ?? [], peak => Assert.True(double.IsNaN(peak.Watts)));
    });

    private static StudyData Twice(StudyData data) => data with
    {
        Log = new IntervalLog(
            data.Log.Columns, data.Log.Starts.ToArray(),
            [
                .. data.Log.Columns.Select((column, index) => column.Quantity is LogQuantity.ActivePower or LogQuantity.ActiveEnergy
                    ? data.Log.Values(index).ToArray().Select(value => 2 * value).ToArray() : data.Log.Values(index).ToArray()),
            ], data.Log.IntervalSeconds),
    };

    private static ImmutableArray<StudyEvent> Events(int seed)
    {
        var chance = new Random(seed);
        string[] kinds = ["dip", "swell", "interruption", "rapid-voltage-change", "transient"];
        double[] odd = [0, -0.0, double.Epsilon, 1e-4, 0.02, 1, 1e7];
        return [.. Enumerable.Range(0, chance.Next(12)).Select(at => new StudyEvent(
            kinds[chance.Next(kinds.Length)], ["V1"], new DateTime(2026, 3, 2).AddMinutes(at * chance.Next(500)), odd[chance.Next(odd.Length)], chance.NextDouble() < 0.2 ? 0 : 200 * chance.NextDouble()))];
    }

    private static void Near(double expected, double found) => Assert.True(Math.Abs(expected - found) <= 1e-9 * Math.Max(Math.Abs(expected), 1), $"{expected} {found}");

    private static void Each(Action<int> check)
    {
        for (var seed = 1; seed <= Logs; seed++)
        {
            try
            {
                check(seed);
            }
            catch (Exception failure)
            {
                throw new InvalidOperationException($"The log of seed {seed}: {failure.Message}", failure);
            }
        }
    }
}
