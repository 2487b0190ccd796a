using System.Globalization;
using Leadwright.Core.Measuring;
using Leadwright.Core.Signals.Spectra;
using Leadwright.Core.Signals.Windows;
using Leadwright.Core.Tests.Measuring;

namespace Leadwright.Core.Tests.Signals.Spectra;

/// <summary>IEC 61000-4-7 grouping: every order of tests/vectors/harmonic-groups and its two check signals.</summary>
public sealed class HarmonicGroupsTests
{
    private static IEnumerable<IReadOnlyDictionary<string, string>> Rows => RepositoryFile.Table("vectors/harmonic-groups/harmonic_grouping.csv");

    [Fact]
    public void Every_order_takes_the_bins_that_the_table_lists()
    {
        var rows = 0;
        foreach (var row in Rows)
        {
            var (cycles, order) = ((int)row.Number("cycles"), (int)row.Number("order_h"));
            // A bin's square is a power of two per bin number modulo 50: sums then tell which bins are in.
            var squares = Enumerable.Range(0, 620).Select(bin => (bin * 1.37) + 1).ToArray();
            Assert.Equal(Sum(squares, row, "centred_interharmonic_subgroup_first_bin", "centred_interharmonic_subgroup_last_bin"),
                HarmonicGroups.CentredSubgroup(squares, cycles, order), 6);
            Assert.Equal(Sum(squares, row, "interharmonic_group_first_bin", "interharmonic_group_last_bin"),
                HarmonicGroups.InterharmonicGroup(squares, cycles, order), 6);
            rows++;
            if (order == 0) continue;
            Assert.Equal(Sum(squares, row, "subgroup_first_bin", "subgroup_last_bin"), HarmonicGroups.Subgroup(squares, cycles, order), 6);
            var group = Sum(squares, row, "group_first_full_bin", "group_last_full_bin")
                + (0.5 * (squares[Bin(row, "group_half_low_bin")] + squares[Bin(row, "group_half_high_bin")]));
            Assert.Equal(group, HarmonicGroups.Group(squares, cycles, order), 6);
        }

        Assert.Equal(102, rows);
    }

    // Check signals derived from the formulas of the standard (tests/vectors/harmonic-groups/README.md).
    [Theory]
    [InlineData(50, 230, 10, 3, 4, 2, 10.4403, 4.4721, 4.5393, 4.9381)]
    [InlineData(60, 120, 6, 2, 3, 1, 6.3246, 3.1623, 5.2705, 0)]
    public void Check_signals_give_their_groups(
        double line, double fundamental, double fifth, double near, double half, double inside,
        double subgroup, double centred, double thds, double thdg)
    {
        var n = WindowMeter.CyclesFor(line);
        var wave = new PanelWave(10240);
        double[] sizes = [fundamental, fifth, near, half, inside];
        double[] bins = [n, 5 * n, (5 * n) + 1, (5 * n) + (n / 2), (5 * n) + (line < 55 ? 3 : 2)];
        foreach (var (size, bin) in sizes.Zip(bins)) wave.With(0, bin * 5, size, 17 * bin);
        var sink = PanelWave.Measure(PanelWave.Plan(10240, line, MeasuringInterval.Cycles) with { Lanes = 1 }, wave.Frames(2));

        var row = sink.Rows[3];
        var at = new SpectrumRow(50);
        Assert.Equal(subgroup, row.Spectrum[SpectrumRow.Subgroup(5)][0], 3e-3);
        Assert.Equal(centred, row.Spectrum[at.Interharmonic(5)][0], 3e-3);
        Assert.Equal(thds, 100 * row.Spectrum[SpectrumRow.SubgroupThd][0], 3e-3);
        if (thdg > 0) Assert.Equal(thdg, 100 * row.Spectrum[SpectrumRow.GroupThd][0], 3e-3);
        Assert.Equal(fifth / fundamental * 100, 100 * row.Spectrum[SpectrumRow.Thd][0], 3e-3);
    }

    private static int Bin(IReadOnlyDictionary<string, string> row, string column) => int.Parse(row[column], CultureInfo.InvariantCulture);

    private static double Sum(double[] squares, IReadOnlyDictionary<string, string> row, string first, string last) =>
        squares[Bin(row, first)..(Bin(row, last) + 1)].Sum();
}
