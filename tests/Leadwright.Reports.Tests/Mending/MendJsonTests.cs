using System.Collections.Immutable;
using System.Text.Json;
using Leadwright.Core.Hookups;
using Leadwright.Core.Logs;
using Leadwright.Core.Mending;
using Leadwright.Core.Mending.Answers;
using Leadwright.Reports.Mending;

namespace Leadwright.Reports.Tests.Mending;

public sealed class MendJsonTests
{
    private static readonly DateTime s_from = new(2026, 3, 2);

    [Fact]
    public void One_line_holds_energy_corrections_and_what_can_not_be_mended_as_the_schema_has_them()
    {
        var line = MendJson.Line(new MendDocument("week.csv", Report(), ["A note."]));
        Assert.DoesNotContain('\n', line);
        using var json = JsonDocument.Parse(line);
        var root = json.RootElement;
        Assert.Equal("leadwright.mend/1", root.GetProperty("schema").GetString());
        Assert.Equal("week.csv", root.GetProperty("file").GetString());
        var energy = root.GetProperty("energy");
        Assert.Equal(-340.2, energy.GetProperty("recorded_kwh").GetDouble());
        Assert.Equal(6543.0, energy.GetProperty("mended_kwh").GetDouble());
        Assert.Equal(6480.0, energy.GetProperty("low_kwh").GetDouble());
        Assert.Equal(6605.0, energy.GetProperty("high_kwh").GetDouble());
        Assert.Equal(0.95, energy.GetProperty("coverage").GetDouble());
        var correction = root.GetProperty("corrections")[0];
        Assert.Equal("clamps-exchanged", correction.GetProperty("kind").GetString());
        Assert.Equal(["I2", "I3"], correction.GetProperty("channels").EnumerateArray().Select(channel => channel.GetString()));
        Assert.Equal("2026-03-02T00:00:00", correction.GetProperty("from").GetString());
        Assert.Equal("exact", correction.GetProperty("basis").GetString());
        Assert.NotEqual("", correction.GetProperty("says").GetString());
        Assert.Equal("2026-03-09T00:00:00", root.GetProperty("unmendable")[0].GetProperty("to").GetString());
        Assert.True(root.GetProperty("after").GetProperty("peak_is_at_least").GetBoolean());
        Assert.Equal(15, root.GetProperty("after").GetProperty("peak_minutes").GetDouble());
        Assert.Equal(JsonValueKind.Null, root.GetProperty("before").GetProperty("power_factor").ValueKind);
    }

    [Fact]
    public void Each_phase_has_its_peak_and_power_factor_in_text_and_JSON()
    {
        var figures = Report().After with { PhaseWattHours = [1000, 2000, 3000], PhasePeakWatts = [1500, double.NaN, 3500], PhasePowerFactors = [0.91, 0.92, 0.93] };
        var document = new MendDocument("week.csv", Report() with { Before = figures with { PhasePowerFactors = [0.91, -0.92, 0.93] }, After = figures }, []);
        using var json = JsonDocument.Parse(MendJson.Line(document));
        var after = json.RootElement.GetProperty("after");
        Assert.Equal("[1.5,null,3.5]", after.GetProperty("phase_peak_kw").GetRawText());
        Assert.Equal("[0.91,0.92,0.93]", after.GetProperty("phase_power_factor").GetRawText());
        var text = MendText.Of(document);
        Assert.Contains("    phase 3, kW                             3.50        3.50", text, StringComparison.Ordinal);
        Assert.Contains("    phase 2                               -0.920       0.920", text, StringComparison.Ordinal);
    }

    [Fact]
    public void What_lay_beyond_a_range_again_and_again_is_told_once_with_all_its_energy()
    {
        Correction[] beyond = [.. Enumerable.Range(0, 5).Select(day => Correction(CorrectionKind.OverRange) with
        {
            Leads = [], Clamps = [Clamp.I2], From = s_from.AddDays(day), To = s_from.AddDays(day).AddHours(2), Basis = CorrectionBasis.Modelled, WattHours = 2000, UncertaintyWattHours = 300,
        })];
        Unmendable[] lost = [.. beyond.Select(entry => new Unmendable(UnmendableReason.BeyondRange, [], [Clamp.I2], entry.From, entry.To))];
        var text = MendText.Of(new MendDocument("week.csv", Report() with { Corrections = [.. beyond], Unmendable = [.. lost] }, []));
        Assert.Contains("2026-03-02 00:00:00 to 2026-03-06 02:00:00, 5 times, 10 h together  over-range, modelled", text, StringComparison.Ordinal);
        Assert.Contains("changes the energy by 10.0 kWh, give or take 1.5 kWh", text, StringComparison.Ordinal);
        Assert.Contains("5 times, 10 h together  The current of I2 beyond the range is lost", text, StringComparison.Ordinal);
        Assert.Equal(2, text.Split("There was more current").Length);
    }

    [Fact]
    public void A_recording_without_power_has_no_energy()
    {
        using var json = JsonDocument.Parse(MendJson.Line(new MendDocument("week.csv", Report() with { Energy = null }, [])));
        Assert.Equal(JsonValueKind.Null, json.RootElement.GetProperty("energy").ValueKind);
    }

    [Fact]
    public void The_text_says_that_a_peak_may_have_been_larger()
    {
        var text = MendText.Of(new MendDocument("week.csv", Report(), []));
        Assert.Contains("peak over 15 min, kW (at least)", text, StringComparison.Ordinal);
        Assert.Contains("energy 6543 kWh, between 6480 and 6605 kWh with probability 0.95", text, StringComparison.Ordinal);
        Assert.Contains("was not stated and is not in it", text, StringComparison.Ordinal);
        Assert.DoesNotContain("was not stated", MendText.Of(new MendDocument("week.csv", Report(), []) { IsAccuracyStated = true }), StringComparison.Ordinal);
    }

    [Fact]
    public void Every_correction_and_every_reason_is_said_in_whole_sentences()
    {
        foreach (var kind in Enum.GetValues<CorrectionKind>())
        {
            foreach (var basis in Enum.GetValues<CorrectionBasis>()) AssertSentences(MendWording.Of(Correction(kind) with { Basis = basis }));
            AssertSentences(MendWording.Of(Correction(kind) with { WattHours = 1200, UncertaintyWattHours = 30, Trials = 27 }));
        }

        foreach (var reason in Enum.GetValues<UnmendableReason>())
            AssertSentences(MendWording.Of(new Unmendable(reason, [Lead.V2], [Clamp.I1], s_from, s_from.AddDays(1))));
    }

    private static void AssertSentences(string text)
    {
        Assert.True(char.IsUpper(text[0]) && text.EndsWith('.'), text);
        Assert.DoesNotContain("NaN", text, StringComparison.Ordinal);
        Assert.DoesNotContain("  ", text, StringComparison.Ordinal);
    }

    private static Correction Correction(CorrectionKind kind) =>
        new(kind, [Lead.V1], [Clamp.I2, Clamp.I3], s_from, s_from.AddDays(7), CorrectionBasis.Exact) { Factor = 10 };

    private static MendReport Report()
    {
        var log = new IntervalLog([new LogColumn("P1", LogQuantity.ActivePower, LogPlace.Phase1)], [s_from.Ticks], [[1.0]], 600);
        var figures = new LoadFigures(1, 2, s_from, double.NaN, double.NaN, double.NaN, []) { PeakMinutes = 15 };
        return new MendReport(
            s_from, s_from.AddDays(7), log, ImmutableDictionary<int, ReadOnlyMemory<Standing>>.Empty,
            [Correction(CorrectionKind.ClampsExchanged) with { Leads = [] }],
            [new Unmendable(UnmendableReason.RecorderOff, [], [], s_from, s_from.AddDays(7))],
            new MendedEnergy(-340200, 6543000, 6480000, 6605000, 0.95), figures, figures with { PeakIsAtLeast = true });
    }
}
