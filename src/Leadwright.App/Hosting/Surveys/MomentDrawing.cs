using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using Leadwright.Client.Surveys;
using Leadwright.Core.Hookups;

namespace Leadwright.App.Hosting.Surveys;

/// <summary>Draws a moment of a recording: waves over a few cycles, spectra as bars. Colours come from the page's own style, by class.</summary>
internal static class MomentDrawing
{
    private const double Width = 720;
    private const double Left = 58;
    private const double Right = 44;
    private const double BandHeight = 150;
    private const double Gap = 26;
    private const int MostPoints = 1200;
    private const int HighestOrder = 25;
    private static readonly bool[] s_voltsThenAmperes = [true, false];
    private static readonly string[] s_units = ["V", "A"];

    /// <summary>Voltages above, currents below, the moment as a line through both.</summary>
    /// <param name="waves">The channels with their samples, of one length.</param>
    /// <param name="rateHertz">Samples a second.</param>
    /// <param name="atSeconds">The moment, after the first sample.</param>
    public static string Waves(ImmutableArray<(Channel Channel, ReadOnlyMemory<double> Samples)> waves, double rateHertz, double atSeconds)
    {
        var bands = s_voltsThenAmperes.Select(isVoltage => waves.Where(wave => RecordingWaves.IsVoltage(wave.Channel) == isVoltage).ToList()).Where(band => band.Count > 0).ToList();
        if (bands.Count == 0 || waves[0].Samples.Length < 2) return "";
        var seconds = waves[0].Samples.Length / rateHertz;
        var svg = Begin((bands.Count * (BandHeight + Gap)) + 22, "moment-waves");
        for (var index = 0; index < bands.Count; index++)
        {
            var top = index * (BandHeight + Gap);
            var most = bands[index].Max(wave => Largest(wave.Samples.Span));
            if (most <= 0) most = 1;
            var unit = RecordingWaves.IsVoltage(bands[index][0].Channel) ? "V" : "A";
            Scale(svg, top, most, unit);
            for (var line = 0; line < bands[index].Count; line++)
            {
                var (channel, samples) = bands[index][line];
                svg.Append(CultureInfo.InvariantCulture, $"<path class=\"wave look-{Look(channel)}\" d=\"{Path(samples.Span, top, most)}\"/>");
                svg.Append(CultureInfo.InvariantCulture, $"<text class=\"look-{Look(channel)}\" x=\"{Width - Right + 5:0.#}\" y=\"{top + 16 + (18 * line):0.#}\">{channel}</text>");
            }
        }

        var height = bands.Count * (BandHeight + Gap);
        var x = Left + ((Width - Left - Right) * atSeconds / seconds);
        svg.Append(CultureInfo.InvariantCulture, $"<path class=\"now\" d=\"M{x:0.##} 0V{height - Gap:0.#}\"/>");
        svg.Append(CultureInfo.InvariantCulture, $"<text x=\"{Left:0.#}\" y=\"{height + 12:0.#}\">{0 - Math.Round(1000 * atSeconds, 1):0.#} ms</text><text x=\"{Width - Right:0.#}\" y=\"{height + 12:0.#}\" text-anchor=\"end\">{1000 * (seconds - atSeconds):0.#} ms</text></svg>");
        return svg.ToString();
    }

    /// <summary>The orders from the 2nd on, percent of the fundamental, a group of bars for each order.</summary>
    /// <param name="rows">The channels.</param>
    public static string Spectra(ImmutableArray<SpectrumRow> rows)
    {
        var bands = s_units.Select(unit => rows.Where(row => row.Unit == unit && row.Percent.Length > 1).ToList()).Where(band => band.Count > 0).ToList();
        if (bands.Count == 0) return "";
        var svg = Begin((bands.Count * (BandHeight + Gap)) + 22, "moment-spectra");
        for (var index = 0; index < bands.Count; index++)
        {
            var top = index * (BandHeight + Gap);
            var band = bands[index];
            var highest = Math.Min(HighestOrder, band.Max(row => row.Percent.Length));
            var most = Math.Max(1, band.Max(row => row.Percent.Skip(1).Take(highest - 1).DefaultIfEmpty(0).Max()));
            Scale(svg, top, most, band[0].Unit == "V" ? "% of V" : "% of I", isFromZero: true);
            var step = (Width - Left - Right) / (highest - 1);
            for (var order = 2; order <= highest; order++)
            {
                var x = Left + (step * (order - 2));
                var bar = step * 0.8 / band.Count;
                for (var line = 0; line < band.Count; line++)
                {
                    if (order > band[line].Percent.Length) continue;
                    var tall = BandHeight * band[line].Percent[order - 1] / most;
                    svg.Append(CultureInfo.InvariantCulture, $"<rect class=\"bar look-{LookOf(band[line].Place)}\" x=\"{x + (bar * line):0.##}\" y=\"{top + BandHeight - tall:0.##}\" width=\"{Math.Max(1, bar - 1):0.##}\" height=\"{Math.Max(0.5, tall):0.##}\"/>");
                }

                if (order % 2 == 1) svg.Append(CultureInfo.InvariantCulture, $"<text x=\"{x + (step * 0.4):0.#}\" y=\"{top + BandHeight + 15:0.#}\" text-anchor=\"middle\">{order}</text>");
            }

            for (var line = 0; line < band.Count; line++)
                svg.Append(CultureInfo.InvariantCulture, $"<text class=\"look-{LookOf(band[line].Place)}\" x=\"{Width - Right + 5:0.#}\" y=\"{top + 16 + (18 * line):0.#}\">{band[line].Channel}</text>");
        }

        return svg.Append("</svg>").ToString();
    }

    private static StringBuilder Begin(double height, string name) => new StringBuilder(16384)
        .Append(CultureInfo.InvariantCulture, $"<svg class=\"moment {name}\" viewBox=\"0 -8 {Width:0} {height + 8:0}\" aria-hidden=\"true\">");

    private static void Scale(StringBuilder svg, double top, double most, string unit, bool isFromZero = false)
    {
        svg.Append(CultureInfo.InvariantCulture, $"<path class=\"edge\" d=\"M{Left:0.#} {top:0.#}V{top + BandHeight:0.#}H{Width - Right:0.#}\"/>");
        if (!isFromZero) svg.Append(CultureInfo.InvariantCulture, $"<path class=\"edge\" d=\"M{Left:0.#} {top + (BandHeight / 2):0.#}H{Width - Right:0.#}\"/>");
        svg.Append(CultureInfo.InvariantCulture, $"<text x=\"{Left - 6:0.#}\" y=\"{top + 6:0.#}\" text-anchor=\"end\">{Short(most)}</text><text x=\"{Left - 6:0.#}\" y=\"{top + 24:0.#}\" text-anchor=\"end\">{unit}</text>");
        svg.Append(CultureInfo.InvariantCulture, $"<text x=\"{Left - 6:0.#}\" y=\"{top + BandHeight:0.#}\" text-anchor=\"end\">{(isFromZero ? "0" : Short(-most))}</text>");
    }

    private static string Path(ReadOnlySpan<double> samples, double top, double most)
    {
        var path = new StringBuilder(samples.Length * 12);
        var stride = Math.Max(1, samples.Length / MostPoints);
        var isDown = false;
        for (var index = 0; index < samples.Length; index += stride)
        {
            if (!double.IsFinite(samples[index]))
            {
                isDown = false;
                continue;
            }

            var x = Left + ((Width - Left - Right) * index / (samples.Length - 1));
            var y = top + (BandHeight / 2 * (1 - (samples[index] / most)));
            path.Append(CultureInfo.InvariantCulture, $"{(isDown ? 'L' : 'M')}{x:0.#} {y:0.#}");
            isDown = true;
        }

        return path.ToString();
    }

    private static double Largest(ReadOnlySpan<double> samples)
    {
        var most = 0.0;
        foreach (var sample in samples)
        {
            if (double.IsFinite(sample)) most = Math.Max(most, Math.Abs(sample));
        }

        return most;
    }

    private static string Short(double value) => Math.Abs(value) >= 100 ? value.ToString("0", CultureInfo.InvariantCulture) : value.ToString("0.##", CultureInfo.InvariantCulture);

    private static int Look(Channel channel) => LookOf(RecordingWaves.PlaceOf(channel));

    private static int LookOf(string place) => place switch { "Phase1" or "Pair12" => 1, "Phase2" or "Pair23" => 2, "Phase3" or "Pair31" => 3, _ => 4 };
}
