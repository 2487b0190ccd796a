using System.Globalization;
using System.Text.Json;
using Leadwright.Core.Circuits;
using Leadwright.Core.Logs;
using Leadwright.Core.Studies;
using Leadwright.Core.Studies.Load;
using Leadwright.Formats.Limits;
using Leadwright.Formats.Logs;

namespace Leadwright.Formats.Tests.Limits;

/// <summary>Real interval files against figures that numpy recomputed (tests/vectors/study) and against the check figures of tests/data/README.md.</summary>
public sealed class PublishedStudyTests
{
    private static readonly JsonElement s_expected =
        JsonDocument.Parse(File.ReadAllBytes(Path.Combine(TestData.Folder, "..", "vectors", "study", "expected.json"))).RootElement;

    [Fact]
    public void Steel_works_agrees_with_numpy()
    {
        var expected = s_expected.GetProperty("steel");
        var study = Study("interval/steel-15min-2018-jan-jun.csv", new LoadStudyOptions { Opening = TariffReader.ParseHours("mon-fri 08:00-18:00") });

        Near(expected, "kwh", study.Energy.ImportWattHours / 1000);
        Near(expected, "lagging_kvarh", study.ReactiveVarHours.Lagging / 1000);
        Near(expected, "leading_kvarh", study.ReactiveVarHours.Leading / 1000);
        Peak(expected, "peak15", study, DemandKind.Block, 15);
        Peak(expected, "peak30_block", study, DemandKind.Block, 30);
        Peak(expected, "peak30_sliding", study, DemandKind.Sliding, 30);
        Near(expected, "load_factor", study.LoadFactor);
        Near(expected, "closed_kwh", study.Opening!.ClosedWattHours / 1000);
        Near(expected, "base_kw", study.BaseWatts / 1000);
        Near(expected, "near_peak_kw", study.NearPeakWatts / 1000);
        Near(expected, "first_day_hour_10_kw", study.HeatMap[0].Watts[10] / 1000);
        Near(expected, "median_kw", (study.Duration[8687] + study.Duration[8688]) / 2000);
        Assert.Equal(6, study.Months.Length);
        foreach (var month in study.Months)
            Near(expected.GetProperty("months_kwh"), month.From.Month.ToString(CultureInfo.InvariantCulture), month.ImportWattHours / 1000);
    }

    // The publisher's check figures: tests/data/README.md.
    [Fact]
    public void Steel_works_agrees_with_the_check_figures_of_its_source()
    {
        var study = Study("interval/steel-15min-2018-jan-jun.csv", new LoadStudyOptions());
        Assert.Equal(521199.76, study.Energy.ImportWattHours / 1000, 0.005);
        Assert.Equal(228436.05, study.ReactiveVarHours.Lagging / 1000, 0.005);
        Assert.Equal(73405.07, study.ReactiveVarHours.Leading / 1000, 0.005);
        Assert.Equal((612.56, new DateTime(2018, 1, 15, 13, 45, 0)), (Math.Round(study.Peaks[0].Watts / 1000, 2), study.Peaks[0].To));
        Assert.Equal(0.19587, study.LoadFactor, 5e-6);
        Assert.Equal([126238.29, 91497.34, 80230.41, 78769.80, 79059.28, 65404.64], study.Months.Select(month => Math.Round(month.ImportWattHours / 1000, 2)));
    }

    [Fact]
    public void Household_agrees_with_numpy()
    {
        var expected = s_expected.GetProperty("household");
        var study = Study("interval/household-1min-2007-02-01.csv", new LoadStudyOptions { DemandMinutes = [1, 5, 15, 30, 60] });
        Near(expected, "kwh", study.Energy.ImportWattHours / 1000);
        Near(expected, "kvarh", study.ReactiveVarHours.Lagging / 1000);
        Near(expected, "peak_minute_kw", study.Peaks[0].Watts / 1000);
        foreach (var minutes in (int[])[5, 15, 30, 60])
        {
            foreach (var kind in Enum.GetValues<DemandKind>())
            {
                var name = FormattableString.Invariant($"{(kind == DemandKind.Block ? "block" : "sliding")}{minutes}");
                var peak = Assert.Single(study.Peaks, peak => peak.Kind == kind && peak.Minutes == minutes);
                Near(expected, name + "_kw", peak.Watts / 1000);
                Assert.Equal(new DateTime(2007, 2, 1).AddMinutes(expected.GetProperty(name + "_row").GetInt32()), peak.From);
                if (kind == DemandKind.Block) Near(expected, FormattableString.Invariant($"load_factor{minutes}"), peak.LoadFactor);
            }
        }
    }

    [Fact]
    public void Voltage_of_the_household_agrees_with_numpy()
    {
        var expected = s_expected.GetProperty("household");
        var level = Assert.Single(VoltageLevel.Of(Data("interval/household-1min-2007-02-01.csv")));
        Assert.Equal(LogPlace.Phase1, level.Place);
        Near(expected, "mean_volts", level.MeanVolts);
        Near(expected, "least_volts", level.LeastVolts);
        Near(expected, "most_volts", level.MostVolts);
        Near(expected, "p5_volts", level.Percentile5Volts);
        Near(expected, "p95_volts", level.Percentile95Volts);
    }

    private static void Peak(JsonElement expected, string name, LoadStudy study, DemandKind kind, double minutes)
    {
        var peak = Assert.Single(study.Peaks, peak => peak.Kind == kind && peak.Minutes == minutes);
        Near(expected, name + "_kw", peak.Watts / 1000);
        Assert.Equal(expected.GetProperty(name + "_from").GetDateTime(), peak.From);
    }

    private static void Near(JsonElement expected, string name, double value)
    {
        var wanted = expected.GetProperty(name).GetDouble();
        Assert.True(Math.Abs(value - wanted) <= 1e-9 * Math.Abs(wanted), FormattableString.Invariant($"{name}: {value:R} instead of {wanted:R}"));
    }

    private static LoadStudy Study(string path, LoadStudyOptions options) => LoadStudy.Of(Data(path), options)!;

    private static StudyData Data(string path)
    {
        var file = LogReader.Read(TestData.File(path), new LogReadOptions { NominalVolts = 240 }, cancellation: TestContext.Current.CancellationToken);
        return new StudyData(file.Log) { Standings = file.Standings, Service = ServiceKind.Single, Nominal = new NominalVoltage(240, 240) }.WithPhaseOfSingle();
    }
}
