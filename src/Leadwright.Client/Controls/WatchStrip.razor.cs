using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Client.Model;
using Leadwright.Client.Model.Guarding;
using Leadwright.Client.Surveys;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Web;

namespace Leadwright.Client.Controls;

/// <summary>One lane for each lead, each clamp and the recorder over the whole recording: what told the truth when, by pattern, shade and letter.</summary>
public sealed partial class WatchStrip : ComponentBase
{
    // From one label to the next, in seconds: times that a clock's face has.
    private static readonly int[] s_steps = [1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 10_800, 21_600, 43_200];

    private ImmutableArray<DateTime> _days = [];
    private ImmutableArray<(DateTime At, string Text)> _labels = [];
    private ImmutableArray<DateTime> _ticks = [];

    /// <summary>The lanes.</summary>
    [Parameter, EditorRequired]
    public ImmutableArray<StripLane> Lanes { get; set; } = [];

    /// <summary>The spans that their blocks stand for.</summary>
    [Parameter, EditorRequired]
    public ImmutableArray<GuardSpanSheet> Spans { get; set; } = [];

    /// <summary>What is in sight.</summary>
    [Parameter, EditorRequired]
    public TimeView View { get; set; }

    /// <summary>Told when something else is to be in sight.</summary>
    [Parameter]
    public EventCallback<TimeView> ViewChanged { get; set; }

    /// <summary>Index of the span that is picked; below zero for none.</summary>
    [Parameter]
    public int Picked { get; set; } = -1;

    /// <summary>Told when a span is picked.</summary>
    [Parameter]
    public EventCallback<int> PickedChanged { get; set; }

    /// <inheritdoc/>
    protected override void OnParametersSet()
    {
        var days = ImmutableArray.CreateBuilder<DateTime>();
        if (View.Length.TotalDays <= 62)
        {
            for (var day = View.From.Date.AddDays(1); day < View.To; day = day.AddDays(1)) days.Add(day);
        }

        _days = days.ToImmutable();
        _labels = [.. Labels()];
        _ticks = View.Length.TotalDays > 2 ? _days : [.. _labels.Select(label => label.At)];
    }

    private Task Show(TimeView view) => ViewChanged.InvokeAsync(view);

    private Task PressAsync(KeyboardEventArgs args, int span) => args.Key is "Enter" or " " ? PickedChanged.InvokeAsync(span) : Task.CompletedTask;

    private static string Fill(StripState state) => state == StripState.Sound ? "" : $"url(#strip-{state.Word})";

    private static string Text(double percent) => string.Create(CultureInfo.InvariantCulture, $"{percent:0.###}%");

    private string Percent(DateTime time) => Text(View.Percent(time));

    private (double Left, double Width) Place(StripBlock block)
    {
        var left = Math.Max(0, View.Percent(block.From));
        var right = Math.Min(100, View.Percent(block.To));
        // A clock's step has no length, and is still shown.
        return block.To <= View.From || block.From >= View.To ? (0, 0) : (left, Math.Max(right - left, 0.15));
    }

    private bool ShowsSound(StripLane lane) => lane.Blocks.All(block => Place(block) is var place && (place.Width <= 0 || place.Left > 9));

    private string Words(StripLane lane, StripBlock block, GuardSpanSheet span) =>
        $"{lane.Name} {block.State.Says}, {Shown.ShortMoment(block.From, View.Length)} to {Shown.ShortMoment(block.To, View.Length)}. {span.Says}";

    // As many labels as a phone has room for.
    private IEnumerable<(DateTime At, string Text)> Labels()
    {
        if (View.Length.TotalDays > 2)
        {
            var step = Math.Max(1, (int)Math.Ceiling(View.Length.TotalDays / 7));
            for (var index = 0; index < _days.Length; index += step)
            {
                if (View.Percent(_days[index]) < 88) yield return (_days[index], _days[index].ToString("ddd d", CultureInfo.InvariantCulture));
            }

            yield break;
        }

        if (View.Length.TotalSeconds < 4)
        {
            for (var part = 0; part < 4; part++)
            {
                var at = View.From + (View.Length * (0.02 + (part * 0.25)));
                yield return (at, at.ToString("mm:ss.ff", CultureInfo.InvariantCulture));
            }

            yield break;
        }

        var spacing = Array.Find(s_steps, seconds => seconds >= View.Length.TotalSeconds / 4);
        var between = spacing * TimeSpan.TicksPerSecond;
        for (var ticks = (View.From.Ticks + between - 1) / between * between; ticks < View.To.Ticks; ticks += between)
        {
            var at = new DateTime(ticks, View.From.Kind);
            if (View.Percent(at) >= 86) yield break;
            yield return (at, at.TimeOfDay == TimeSpan.Zero ? at.ToString("ddd d", CultureInfo.InvariantCulture) : at.ToString(spacing < 60 ? "HH:mm:ss" : "HH:mm", CultureInfo.InvariantCulture));
        }
    }
}
