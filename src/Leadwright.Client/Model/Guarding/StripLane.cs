using System.Collections.Immutable;
using Leadwright.Client.Surveys;

namespace Leadwright.Client.Model.Guarding;

/// <summary>A lane of the watch strip.</summary>
/// <param name="Name">The lead or clamp, or <c>Recorder</c>.</param>
/// <param name="Blocks">What it was doing where it was not sound, in the order in which they are drawn.</param>
public sealed record StripLane(string Name, ImmutableArray<StripBlock> Blocks)
{
    /// <summary>The lane of the recorder itself.</summary>
    public const string Recorder = "Recorder";

    // Of the whole recorder, not of one lead or clamp.
    private static readonly string[] s_ofRecorder = ["no-data", "clock-jump"];

    /// <summary>The lanes of a guard's answer: every lead and every clamp that was recorded, the recorder. What nobody recorded told no truth.</summary>
    /// <param name="guard">The answer.</param>
    public static ImmutableArray<StripLane> Of(GuardSheet guard)
    {
        ArgumentNullException.ThrowIfNull(guard);
        // Leads are recorded together, between them or to the neutral.
        var names = guard.Hookups.SelectMany(piece => piece.Hookup.Keys).Where(name => name[0] == 'V' ? guard.Usable.Keys.Any(channel => channel[0] == 'V') : guard.Usable.ContainsKey(name)).Concat(guard.Spans.SelectMany(span => span.Channels))
            .Distinct(StringComparer.Ordinal).OrderBy(name => name[0] == 'V' ? 0 : 1).ThenBy(name => name.EndsWith('N')).ThenBy(name => name, StringComparer.Ordinal);
        return [.. names.Append(Recorder).Select(name => new StripLane(name, BlocksOf(guard, name)))];
    }

    private static ImmutableArray<StripBlock> BlocksOf(GuardSheet guard, string name)
    {
        var blocks = ImmutableArray.CreateBuilder<StripBlock>();
        for (var index = 0; index < guard.Spans.Length; index++)
        {
            var span = guard.Spans[index];
            var isOfAll = span.Kind == "no-data" || (span.Channels.IsEmpty && !s_ofRecorder.Contains(span.Kind) && name != Recorder && name[0] == 'V');
            var isOwn = name == Recorder ? s_ofRecorder.Contains(span.Kind) : span.Channels.Contains(name);
            if (!isOwn && !isOfAll) continue;
            blocks.Add(new StripBlock(index, StripState.Of(span.Kind, span.Doubtful), span.From, span.To));
        }

        // What has no rows hides everything else, and an outage what was wrong with the leads meanwhile.
        return [.. blocks.OrderBy(block => block.State == StripState.NoData ? 2 : block.State == StripState.Outage ? 1 : 0).ThenBy(block => block.From)];
    }
}

/// <summary>A stretch of a lane.</summary>
/// <param name="Span">Index of the span among those of the guard.</param>
/// <param name="State">What it was doing.</param>
/// <param name="From">Start.</param>
/// <param name="To">End.</param>
public sealed record StripBlock(int Span, StripState State, DateTime From, DateTime To);
