using Leadwright.Core.Integrity.Chains;
using Leadwright.Core.Integrity.Recorder;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>Eight days of ten minutes: every line carries 4 A by night, and 20 to 40 A by day as it happens. On the sixth day one clamp is said to have read half.</summary>
public sealed class ShowsAsMuchTests
{
    private const int Day = 144, Count = 8 * Day, From = 5 * Day, End = 6 * Day;
    private const byte Half = 1, Tenth = 2;
    private static readonly double[] s_scales = [1, 0.5, 0.1];

    [Fact]
    public void A_clamp_that_reads_by_night_what_it_reads_every_night_is_at_its_ratio() =>
        Assert.All(Drop((_, _) => 1, Half), state => Assert.Equal(0, state));

    [Fact]
    public void One_that_reads_half_by_night_too_is_not() =>
        Assert.Equal(Said(Half), Drop((row, line) => line == 0 && row is >= From and < End ? 0.5 : 1, Half).Select(state => (int)state));

    // The site is shut: all lines carry seven tenths, the clamp in question the same, which is no sign of half.
    [Fact]
    public void What_all_lines_carry_less_is_the_sites_own() =>
        Assert.All(Drop((row, _) => row is >= From and < End ? 0.62 : 1, Half), state => Assert.Equal(0, state));

    // A recorder's own ratio leaves no line to hold another against.
    [Fact]
    public void Where_all_clamps_are_said_to_read_otherwise_nothing_is_dropped() =>
        Assert.Equal(Said(Half), Drop((_, _) => 1, Half, clamps: 3).Select(state => (int)state));

    [Fact]
    public void Ratios_of_ten_are_left_to_the_leap_they_make() =>
        Assert.Equal(Said(Tenth), Drop((_, _) => 1, Tenth).Select(state => (int)state));

    private static IEnumerable<int> Said(byte state) => Enumerable.Range(0, Count).Select(row => row is >= From and < End ? state : 0);

    private static byte[] Drop(Func<int, int, double> factor, byte state, int clamps = 1)
    {
        var random = new Core.Panels.SeededRandom(5);
        var part = new PartLog();
        for (var line = 0; line < 3; line++)
        {
            var at = line;
            part = part.Volts(line, PartLog.Steady(Count, 230)).Amperes(line, PartLog.Rows(Count, row => factor(row, at) * (row % Day is > 40 and < 110 ? random.Uniform(20, 40) : 4 + random.Uniform(0, 0.4))));
        }

        var frame = part.ToFrame();
        var currents = new CurrentHistory?[4];
        for (var clamp = 0; clamp < clamps; clamp++)
        {
            currents[clamp] = new CurrentHistory(s_scales, new byte[Count], null!) { Unproved = [] };
            Array.Fill(currents[clamp]!.Rows, state, From, End - From);
        }

        ShowsAsMuch.Drop(frame, PartLog.Sound(frame), currents);
        return currents[0]!.Rows;
    }
}
