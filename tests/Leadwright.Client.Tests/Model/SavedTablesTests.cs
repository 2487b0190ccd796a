using Leadwright.Client.Model;
using Leadwright.Client.Surveys;
using Leadwright.Client.Tests.Surveys;

namespace Leadwright.Client.Tests.Model;

public sealed class SavedTablesTests
{
    [Fact]
    public void Spans_are_written_with_point_and_whole_times_and_what_needs_quotes_has_them()
    {
        var guard = SurveyFake.SampleGuard with
        {
            Spans = [new GuardSpanSheet { Kind = "lead-open", Channels = ["V3", "V1"], From = new DateTime(2026, 3, 4, 13, 10, 0), To = new DateTime(2026, 3, 9), Confidence = 0.975, Says = "Lead \"V3\" was off, or nearly." }],
        };
        // RFC 4180: rows end in CR LF, quotes are doubled.
        Assert.Equal(
            "from,to,kind,channels,confidence,doubtful,says\r\n2026-03-04T13:10:00.000,2026-03-09T00:00:00.000,lead-open,V3 V1,0.975,no,\"Lead \"\"V3\"\" was off, or nearly.\"\r\n",
            SavedTables.Of(guard));
    }

    [Fact]
    public void Spectra_have_a_column_for_every_order()
    {
        var moment = new MomentSheet(new DateTime(2026, 3, 4)) { Spectra = [new SpectrumRow("V1", "V", "Phase1") { Rms = 230.5, Percent = [100, 0.5] }, new SpectrumRow("I1", "A", "Phase1") { Rms = 4, DistortionPercent = 12.5, Percent = [100, 1, 12.25] }] };
        Assert.Equal(
            ["at,channel,unit,rms,thd_percent,h1_percent,h2_percent,h3_percent", "2026-03-04T00:00:00.000,V1,V,230.5,,100,0.5", "2026-03-04T00:00:00.000,I1,A,4,12.5,100,1,12.25", ""],
            SavedTables.Of(moment).Split("\r\n"));
    }

    [Fact]
    public void Each_phase_has_its_peak_and_its_power_factor_beside_its_energy()
    {
        var before = new FiguresSheet { PeakKw = 9, PowerFactor = 0.5, PhasePeakKw = [4, null], PhasePowerFactor = [0.9, -0.9] };
        var table = SavedTables.Of(before, before with { PeakKw = 10, PhasePeakKw = [4, 6], PhasePowerFactor = [0.9, 0.9] });
        Assert.Contains("peak,kW,9,10\r\npeak_phase_1,kW,4,4\r\npeak_phase_2,kW,,6\r\npower_factor,,0.5,0.5\r\npower_factor_phase_1,,0.9,0.9\r\npower_factor_phase_2,,-0.9,0.9\r\n", table, StringComparison.Ordinal);
    }

    [Fact]
    public void What_is_not_known_stays_empty()
    {
        var table = SavedTables.Of(new FiguresSheet { Kwh = 10, PhaseKwh = [4, 6] }, new FiguresSheet { Kwh = 12 });
        Assert.Contains("energy,kWh,10,12\r\nenergy_phase_1,kWh,4,\r\nenergy_phase_2,kWh,6,\r\npeak,kW,,\r\n", table, StringComparison.Ordinal);
    }
}
