using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Documents.Drawings;
using Leadwright.Documents.Words;
using Leadwright.Reports.Guarding;

namespace Leadwright.Documents.Charts;

/// <summary>The watch strip: one lane for each lead and clamp over the whole recording, with what was wrong in pattern, shade and letter.</summary>
internal static class WatchStrip
{
    private const double Width = 480, Left = 54, LaneHeight = 15, LaneGap = 5;

    /// <summary>Draws it.</summary>
    public static Drawing Draw(GuardReport report, ReportWords words)
    {
        Channel[] channels = [.. report.Usable.Keys];
        var states = report.Spans.Select(span => StateOf(span)).Distinct().Order().ToList();
        var bottom = 8 + ((channels.Length + 1) * (LaneHeight + LaneGap));
        var ends = ChartFrame.RoomOfTime(report.From.Ticks, report.To.Ticks) + 5;
        var legendRows = (states.Count + 2) / 3;
        var board = new DrawingBoard(Width, bottom + ends + (legendRows * 15));
        var frame = new ChartFrame(board, (Left, 4, Width - 4, bottom), (report.From.Ticks, report.To.Ticks), (0, 1), words);
        frame.TicksOfTime(bottom - 2);
        for (var lane = 0; lane <= channels.Length; lane++)
        {
            var y = LaneTop(lane);
            board.Rectangle(Left, y, frame.Right - Left, LaneHeight, new Ink { Fill = Palette.Paper, Stroke = Palette.Grey, StrokeWidth = 0.5 });
            board.Text(Left - 6, y + 11, lane < channels.Length ? channels[lane].ToString() : words.Of("watch.recorder"), 8.4, TextAnchor.End, isBold: lane < channels.Length);
        }

        foreach (var span in report.Spans.OrderBy(span => span.Kind is SpanKind.NoData ? 0 : 1))
        {
            foreach (var lane in LanesOf(span, channels)) Span(frame, span, lane, lane == channels.Length || span.Kind != SpanKind.NoData);
        }

        for (var index = 0; index < states.Count; index++)
        {
            var (x, y) = (Left + (index % 3 * 142), bottom + ends + (index / 3 * 15));
            var (ink, letter, isDark) = LooksOf(states[index], words);
            board.Rectangle(x, y, 20, 12, ink);
            Letter(board, x + 10, y + 9, letter, isDark);
            board.Text(x + 25, y + 9, words.Of($"watch.{states[index].ToString().ToLowerInvariant()}"), 7.8, colour: Palette.Ink);
        }

        var says = report.Spans.IsEmpty ? words.Of("watch.sound") : string.Join(" ", report.Spans.Take(12).Select(span => $"{ReportWords.Stamp(span.From)} – {ReportWords.Stamp(span.To)}: {SpanWording.Of(span)}"));
        return board.Finish(words.Of("watch.title"), says);
    }

    private enum State
    {
        Reversed,
        Moved,
        Ratio,
        Off,
        Supply,
        Range,
        Stuck,
        Clock,
        NoData,
        Doubtful,
    }

    private static State StateOf(GuardSpan span) => span.IsDoubtful ? State.Doubtful : span.Kind switch
    {
        SpanKind.ClampReversed => State.Reversed,
        SpanKind.ClampOpen or SpanKind.LeadOpen or SpanKind.NeutralOpen => State.Off,
        SpanKind.RatioWrong => State.Ratio,
        SpanKind.NoData => State.NoData,
        SpanKind.Outage => State.Supply,
        SpanKind.OverRange => State.Range,
        SpanKind.Stuck => State.Stuck,
        SpanKind.ClockJump => State.Clock,
        _ => State.Moved,
    };

    private static (Ink Ink, string Letter, bool IsDark) LooksOf(State state, ReportWords words)
    {
        var edge = new Ink { Stroke = Palette.Ink, StrokeWidth = 0.6 };
        var letter = words.Of($"watch.letter.{state.ToString().ToLowerInvariant()}");
        return state switch
        {
            State.Reversed => (edge with { Fill = Palette.CopperLight, Pattern = Looks.Hatch }, letter, false),
            State.Moved => (edge with { Fill = Palette.Faint, Pattern = Looks.Dots }, letter, false),
            State.Ratio => (edge with { Fill = Palette.Paper, Pattern = Looks.Upright }, letter, false),
            State.Off => (edge with { Fill = Palette.Ink }, letter, true),
            State.Supply => (edge with { Fill = Palette.Paper, Pattern = Looks.Level }, letter, false),
            State.Range => (edge with { Fill = Palette.Copper }, letter, true),
            State.Stuck => (edge with { Fill = Palette.Grey }, letter, true),
            State.Clock => (edge with { Fill = Palette.Faint }, letter, false),
            State.NoData => (edge with { Fill = Palette.Board, Pattern = Looks.Cross }, letter, false),
            _ => (edge with { Fill = Palette.Paper, Dashes = [2, 2] }, letter, false),
        };
    }

    // Without data no lane has any; a set clock is the recorder's own.
    private static IEnumerable<int> LanesOf(GuardSpan span, Channel[] channels)
    {
        if (span.Kind == SpanKind.NoData) return Enumerable.Range(0, channels.Length + 1);
        if (span.Kind is SpanKind.ClockJump or SpanKind.ServiceMismatch or SpanKind.RotationReversed) return [channels.Length];
        var lanes = Enumerable.Range(0, channels.Length).Where(lane => Concerns(span, channels[lane])).ToList();
        return lanes.Count > 0 ? lanes : [channels.Length];
    }

    private static bool Concerns(GuardSpan span, Channel channel) => channel switch
    {
        Channel.V1 => span.Leads.Contains(Lead.V1) || span.Leads.Contains(Lead.VN),
        Channel.V2 => span.Leads.Contains(Lead.V2) || span.Leads.Contains(Lead.VN),
        Channel.V3 => span.Leads.Contains(Lead.V3) || span.Leads.Contains(Lead.VN),
        Channel.V12 => span.Leads.Contains(Lead.V1) || span.Leads.Contains(Lead.V2),
        Channel.V23 => span.Leads.Contains(Lead.V2) || span.Leads.Contains(Lead.V3),
        Channel.V31 => span.Leads.Contains(Lead.V3) || span.Leads.Contains(Lead.V1),
        _ => span.Clamps.Contains((Clamp)(channel - Channel.I1)),
    };

    private static void Span(ChartFrame frame, GuardSpan span, int lane, bool hasLetter)
    {
        var (ink, letter, isDark) = LooksOf(StateOf(span), frame.Words);
        var (from, to) = (frame.X(span.From.Ticks), frame.X(span.To.Ticks));
        // A short span is drawn wide enough to be seen.
        if (to - from < 2.4) (from, to) = (((from + to) / 2) - 1.2, ((from + to) / 2) + 1.2);
        (from, to) = (Math.Max(from, frame.Left), Math.Min(to, frame.Right));
        var y = LaneTop(lane);
        frame.Board.Rectangle(from, y, to - from, LaneHeight, ink);
        if (!hasLetter) return;
        if (to - from > 12) Letter(frame.Board, (from + to) / 2, y + 10.8, letter, isDark);
        else if (to + 10 < frame.Right) Letter(frame.Board, to + 5.5, y + 10.8, letter, false);
        else Letter(frame.Board, from - 5.5, y + 10.8, letter, false);
    }

    private static void Letter(DrawingBoard board, double x, double y, string letter, bool isDark)
    {
        if (!isDark) board.Rectangle(x - 4, y - 7.8, 8, 9.6, new Ink { Fill = Palette.Paper }, 2);
        board.Text(x, y, letter, 8.4, TextAnchor.Middle, isBold: true, colour: isDark ? Palette.Paper : Palette.Ink);
    }

    private static double LaneTop(int lane) => 8 + (lane * (LaneHeight + LaneGap));
}
