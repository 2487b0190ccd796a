using System.Globalization;
using System.Text;
using Leadwright.Core.Hookups;
using Leadwright.Core.Practice;
using Microsoft.AspNetCore.Components;

namespace Leadwright.Client.Controls;

/// <summary>Half-cycle values around a moment as a picture, with a table behind it.</summary>
public sealed partial class StripChart : ComponentBase
{
    private const double Left = 40;
    private const double Right = 308;
    private const double Bottom = 118;
    private const double Top = 24;
    private const double LabelHeight = 15;
    private static readonly string[] s_colours = ["#f3c777", "#8fd3ff", "#b6e39a"];
    private static readonly string[] s_dashes = ["none", "7 3", "2 3"];
    private readonly List<Group> _groups = [];

    /// <summary>The values.</summary>
    [Parameter, EditorRequired]
    public HalfCycleStrip Strip { get; set; } = null!;

    /// <inheritdoc/>
    protected override void OnParametersSet()
    {
        _groups.Clear();
        Add("Lead to neutral, V", Channel.V1, Channel.V2, Channel.V3);
        Add("Lead to lead, V", Channel.V12, Channel.V23, Channel.V31);
        Add("Currents, A", Channel.I1, Channel.I2, Channel.I3);
    }

    private void Add(string title, params Channel[] channels)
    {
        var shown = channels.Where(Strip.Values.ContainsKey).ToArray();
        if (shown.Length == 0) return;
        var most = shown.Max(channel => Strip.Values[channel].Max());
        var lines = shown.Select((channel, number) => new Line(
            channel, Points(Strip.Values[channel], most), s_colours[number], s_dashes[number],
            Y(Strip.Values[channel][^1], most) + 4, Strip.Values[channel][0], Strip.Values[channel][^1])).OrderBy(line => line.LabelY).ToArray();

        // Labels that would cover each other move down, and back up where they would leave the picture.
        for (var index = 1; index < lines.Length; index++)
            if (lines[index].LabelY - lines[index - 1].LabelY < LabelHeight) lines[index] = lines[index] with { LabelY = lines[index - 1].LabelY + LabelHeight };
        var over = Math.Max(0, lines[^1].LabelY - Bottom - 6);
        for (var index = lines.Length - 1; index >= 0 && over > 0; index--)
        {
            lines[index] = lines[index] with { LabelY = lines[index].LabelY - over };
            over = index > 0 ? Math.Max(0, lines[index - 1].LabelY + LabelHeight - lines[index].LabelY) : 0;
        }

        _groups.Add(new Group(title, lines, most));
    }

    private static double Y(double value, double most) => Bottom - ((Bottom - Top) * value / Math.Max(most, 1e-9));

    private static string Points(IReadOnlyList<double> values, double most)
    {
        var text = new StringBuilder();
        for (var index = 0; index < values.Count; index++)
        {
            var x = Left + ((Right - Left) * index / (values.Count - 1));
            text.Append(CultureInfo.InvariantCulture, $"{x:0.#},{Y(values[index], most):0.#} ");
        }

        return text.ToString();
    }

    private string Milliseconds(int index) => (1000 * Strip.StepSeconds * index).ToString("0", CultureInfo.InvariantCulture);

    private string Text(double value) => Shown.Number(value, "0.0");

    private sealed record Group(string Title, IReadOnlyList<Line> Lines, double Most);

    private sealed record Line(Channel Channel, string Points, string Colour, string Dashes, double LabelY, double First, double Last)
    {
        public string Label => LabelY.ToString("0.#", CultureInfo.InvariantCulture);
    }
}
