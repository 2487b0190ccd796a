using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity.Chains;
using Leadwright.Core.Logs;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>Three lines whose clamps read a tenth from row 200 on, and the neutral's clamp, which is set by itself or with them.</summary>
public sealed class NeutralWithLinesTests
{
    private const int Count = 400, From = 200;
    private static readonly double[] s_scales = [1, 0, 10, 0.1];

    [Theory]
    [InlineData(0.1, 3)]
    [InlineData(1, 0)]
    public void The_neutrals_clamp_read_a_tenth_as_well_if_its_share_of_the_lines_stayed(double ofNeutral, int state)
    {
        var random = new SeededRandom(6);
        var part = new PartLog();
        double[][] amperes = [new double[Count], new double[Count], new double[Count], new double[Count]];
        for (var row = 0; row < Count; row++)
        {
            var sum = Phasor.Zero;
            for (var line = 0; line < 3; line++)
            {
                var size = random.Uniform(5, 40);
                sum += Phasor.FromDegrees(size, -120 * line);
                amperes[line][row] = size * (row >= From ? 0.1 : 1);
            }

            amperes[3][row] = sum.Magnitude * (row >= From ? ofNeutral : 1);
        }

        for (var line = 0; line < 3; line++) part = part.Volts(line, PartLog.Steady(Count, 230)).Amperes(line, amperes[line]);
        var frame = part.With(LogQuantity.Current, LogPlace.Neutral, amperes[3]).ToFrame();
        var currents = Enumerable.Range(0, 4).Select(_ => new CurrentHistory(s_scales, new byte[Count], null!) { Unproved = [] }).ToArray();
        for (var line = 0; line < 3; line++) Array.Fill(currents[line].Rows, (byte)3, From, Count - From);
        NeutralWithLines.Put(frame, currents);
        Assert.Equal(Enumerable.Range(0, Count).Select(row => row >= From ? state : 0), currents[3].Rows.Select(entry => (int)entry));
    }
}
