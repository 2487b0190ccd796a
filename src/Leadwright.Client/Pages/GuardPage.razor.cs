using System.Collections.Immutable;
using Leadwright.Client.Model;
using Leadwright.Client.Model.Charts;
using Leadwright.Client.Model.Guarding;
using Leadwright.Client.Surveys;
using Microsoft.AspNetCore.Components;

namespace Leadwright.Client.Pages;

/// <summary>The guard screen: what told the truth when, and the picture that convinces of each span.</summary>
public sealed partial class GuardPage : SurveyScreen
{
    private GuardSheet? _guard;
    private ImmutableArray<StripLane> _lanes = [];
    private ImmutableArray<ColumnCard> _columns = [];
    private ImmutableArray<ChartMark> _marks = [];
    private (DateTime From, DateTime To) _around;
    private TimeView _view;
    private int _picked = -1;
    private ElementReference _title;

    /// <inheritdoc/>
    protected override async Task FillAsync(CancellationToken cancellation)
    {
        _guard = await Api.GuardAsync(Id, Recording, Progress, cancellation);
        _lanes = StripLane.Of(_guard);
        _view = TimeView.Whole(_guard.From, _guard.To);
        _columns = await ColumnsAsync(cancellation);
        Pick(_guard.Spans.IsEmpty ? -1 : 0);
    }

    private async Task<ImmutableArray<ColumnCard>> ColumnsAsync(CancellationToken cancellation)
    {
        try
        {
            return await Api.ColumnsAsync(Id, Recording, false, cancellation);
        }
        catch (SurveyApiException failure) when (!failure.IsAway)
        {
            // A recording of samples is guarded as well, and has no columns.
            return [];
        }
    }

    private async Task PickAsync(int span)
    {
        Pick(span);
        StateHasChanged();
        // To its heading, not to the whole picture: taller than a phone, it would come to rest with its heading above the window.
        await _title.FocusAsync();
    }

    private void Pick(int index)
    {
        _picked = index;
        if (_guard is null || index < 0) return;
        var span = _guard.Spans[index];
        var whole = TimeView.Whole(_guard.From, _guard.To);
        // From the first interval on there is no before: its end then shows the difference, or all of it is shown.
        var isWhole = span.From <= _guard.From && span.To >= _guard.To;
        var edge = span.From > _guard.From ? span.From : span.To;
        var length = TimeSpan.FromTicks(Math.Clamp(3 * (span.To - span.From).Ticks, TimeSpan.FromMinutes(30).Ticks, TimeSpan.FromHours(30).Ticks));
        var around = isWhole ? whole : whole.Around(edge, length);
        _around = (around.From, around.To);
        _marks = isWhole ? [] :
        [
            .. new[] { (At: span.From, Label: "from here"), (At: span.To, Label: "until here") }
                .Where(mark => mark.At > _guard.From && mark.At < _guard.To).Select(mark => new ChartMark(mark.At, mark.Label)),
        ];
    }

    private static string Headline(GuardSheet guard)
    {
        var faults = guard.Spans.Count(span => !span.Doubtful && span.Kind != "outage");
        var outages = guard.Spans.Count(span => !span.Doubtful && span.Kind == "outage");
        var doubts = guard.Spans.Count(span => span.Doubtful);
        var parts = new List<string>();
        if (faults > 0) parts.Add(faults == 1 ? "one thing did not tell the truth" : $"{faults} things did not tell the truth");
        if (outages > 0) parts.Add(outages == 1 ? "the supply was out once" : $"the supply was out {outages} times");
        if (doubts > 0) parts.Add(doubts == 1 ? "one thing is in doubt" : $"{doubts} things are in doubt");
        if (parts.Count == 0)
            return guard.Usable.IsEmpty ? "Nothing could be judged." : guard.Notes.IsEmpty ? "Every lead and clamp told the truth." : "Nothing wrong was found, as far as it could be judged.";
        var text = parts.Count == 1 ? parts[0] : $"{string.Join(", ", parts.SkipLast(1))} and {parts[^1]}";
        return $"{char.ToUpperInvariant(text[0])}{text[1..]}.";
    }

    private string When(GuardSpanSheet span, GuardSheet guard)
    {
        if (span.From <= guard.From && span.To >= guard.To) return "all the time";
        if (span.To >= guard.To) return $"from {Shown.ShortMoment(span.From, guard.To - guard.From)} to the end";
        if (span.From <= guard.From) return $"from the start to {Shown.ShortMoment(span.To, guard.To - guard.From)}";
        return $"{Shown.ShortMoment(span.From, guard.To - guard.From)}, for {Shown.Length(span.To - span.From)}";
    }

    private static string Name(string quantity) => quantity switch
    {
        "Voltage" => "Voltages",
        "Current" => "Currents",
        _ => "Power of the phases",
    };
}
