using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Wording;

namespace Leadwright.Reports.Hookups;

/// <summary>The hook-up drawing: the conductors as bars, the leads and clamps where the evidence says they are, and dotted
/// where they belong, with the numbered movement that puts them right.</summary>
/// <remarks>Nothing is told by colour alone: each bar has its letter and its own pattern; what is wrong has a dark plate, what
/// is right a light one; an arrow shows which way each clamp faces.</remarks>
public static class HookupDrawing
{
    private const string Ink = "#1f2326";
    private const string Paper = "#fdfcf9";

    /// <summary>The drawing as an SVG element that scales with its place; legible from 340 px wide, in grey and in print.</summary>
    /// <param name="verdict">The verdict.</param>
    /// <param name="naming">How the site's conductors are called and coloured; null for IEC 60445.</param>
    /// <param name="id">A prefix for the ids in the drawing, so that several can stand on one page.</param>
    public static string Svg(HookupVerdict verdict, ConductorNaming? naming = null, string id = "hookup")
    {
        ArgumentNullException.ThrowIfNull(verdict);
        naming ??= ConductorNaming.Iec60445;
        var hookup = verdict.Best.Hookup;
        var layout = new DrawingLayout(Service.Of(verdict.Service), hookup);
        var steps = DrawnStep.Of(verdict);
        var svg = new SvgWriter();
        svg.Add($"""<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {DrawingLayout.Width} {layout.Height}" width="100%" role="img" aria-labelledby="{id}-title {id}-desc" font-family="system-ui, 'Segoe UI', 'DejaVu Sans', sans-serif">""");
        svg.Add($"""<title id="{id}-title">{SvgWriter.Escaped(Title(verdict))}</title>""");
        svg.Add($"""<desc id="{id}-desc">{SvgWriter.Escaped(string.Join(' ', TextTwin(verdict, naming)))}</desc>""");
        Board(svg, layout, verdict.Verdict);
        BarDrawing.Patterns(svg, layout, naming, id);
        foreach (var conductor in layout.Conductors)
            BarDrawing.Bar(svg, layout, conductor, naming, id, ServiceWording.Label(verdict.Best, conductor));
        if (layout.HasAir) BarDrawing.Air(svg, layout);
        foreach (var (lead, place) in hookup.Leads)
        {
            Ghost(svg, layout, steps, lead, place);
            DeviceDrawing.Lead(svg, layout.X(place), layout.Y(lead), lead, place == Service.HomeOf(lead) ? Standing.Right : Standing.Wrong);
        }

        foreach (var (clamp, place) in hookup.Clamps)
        {
            Ghost(svg, layout, steps, clamp, place);
            var standing = place == ClampPlace.Right(Service.HomeOf(clamp)) ? Standing.Right : Standing.Wrong;
            DeviceDrawing.Clamp(svg, layout.X(place.On), layout.Y(clamp), clamp, place.Reversed, standing);
            if (place.On is { } on) BarDrawing.Through(svg, layout.X(on), layout.Y(clamp), on, id);
        }

        foreach (var step in steps) Movement(svg, layout, step);
        svg.Add($"</svg>");
        return svg.ToString();
    }

    /// <summary>The drawing's text twin: one sentence for each lead and clamp, with the step that puts it right.</summary>
    /// <param name="verdict">The verdict.</param>
    /// <param name="naming">How the site's conductors are called; null for IEC 60445.</param>
    public static IReadOnlyList<string> TextTwin(HookupVerdict verdict, ConductorNaming? naming = null)
    {
        ArgumentNullException.ThrowIfNull(verdict);
        naming ??= ConductorNaming.Iec60445;
        var hookup = verdict.Best.Hookup;
        var steps = DrawnStep.Of(verdict);
        return
        [
            .. hookup.Leads.Select(lead => Twin(
                PlaceWording.Of(lead.Key, lead.Value, naming), lead.Value == Service.HomeOf(lead.Key),
                steps.Where(step => step.Movement is MoveLead move && move.Lead == lead.Key), naming)),
            .. hookup.Clamps.Select(clamp => Twin(
                PlaceWording.Of(clamp.Key, clamp.Value, naming), clamp.Value == ClampPlace.Right(Service.HomeOf(clamp.Key)),
                steps.Where(step => ClampOf(step.Movement) == clamp.Key), naming)),
            .. ServiceWording.Supply(verdict, naming) is { Length: > 0 } supply ? [supply.Trim()] : Array.Empty<string>(),
        ];
    }

    private static string Title(HookupVerdict verdict) => verdict.Verdict switch
    {
        Verdict.Correct => Say.Of("drawing.hookup-right", "Hook-up drawing: everything is where it belongs"),
        Verdict.Faulty => Say.Of("drawing.hookup-wrong", "Hook-up drawing: where everything is, and the movements that put it right"),
        _ => Say.Of("drawing.hookup-open", "Hook-up drawing: the likeliest hook-up, which the readings don't prove"),
    };

    private static string Twin(string place, bool isRight, IEnumerable<DrawnStep> steps, ConductorNaming naming)
    {
        var todo = string.Join(' ', steps.Select(step =>
            Say.Of("drawing.step", "Step {number}: {remedy}", ("number", step.Number), ("remedy", RemedyWording.Of(step.Movement, naming)))));
        var where = Phrases.Sentence(place)[..^1];
        return isRight ? Say.Of("drawing.right", "{place}: right.", ("place", where))
            : todo.Length > 0 ? Say.Of("drawing.wrong-todo", "{place}: wrong. {todo}", ("place", where), ("todo", todo)) : Say.Of("drawing.wrong", "{place}: wrong.", ("place", where));
    }

    private static Clamp? ClampOf(Movement movement) => movement switch
    {
        MoveClamp move => move.Clamp,
        TurnClamp turn => turn.Clamp,
        SetRatio set => set.Clamp,
        _ => null,
    };

    private static void Board(SvgWriter svg, DrawingLayout layout, Verdict verdict)
    {
        svg.Add($"""<rect x="1" y="1" width="{DrawingLayout.Width - 2}" height="{layout.Height - 2}" rx="8" fill="#f0ede6" stroke="#c9c4b8"/>""");
        Caption(svg, 22, Say.Of("drawing.from-the-source", "FROM THE SOURCE"));
        Caption(svg, layout.Height - 12, verdict == Verdict.Undecided ? Say.Of("drawing.to-the-load-not-proved", "TO THE LOAD (likeliest, not proved)") : Say.Of("drawing.to-the-load", "TO THE LOAD"));
    }

    private static void Caption(SvgWriter svg, double y, string text)
    {
        svg.Add($"""<text x="{DrawingLayout.Width / 2}" y="{y}" font-size="12" letter-spacing="1" text-anchor="middle" fill="{Ink}">↓ {SvgWriter.Escaped(text)} ↓</text>""");
    }

    // Drawn before the things themselves, so that a dotted place never hides a real one.
    private static void Ghost(SvgWriter svg, DrawingLayout layout, DrawnStep[] steps, Lead lead, Conductor? place)
    {
        foreach (var step in steps)
        {
            if (step.Movement is MoveLead move && move.Lead == lead && move.To != place)
                DeviceDrawing.Lead(svg, layout.X(move.To), layout.Y(lead), lead, Standing.Wanted);
        }
    }

    private static void Ghost(SvgWriter svg, DrawingLayout layout, DrawnStep[] steps, Clamp clamp, ClampPlace place)
    {
        foreach (var step in steps)
        {
            if (step.Movement is MoveClamp move && move.Clamp == clamp && move.To != place.On)
                DeviceDrawing.Clamp(svg, layout.X(move.To), layout.Y(clamp), clamp, place.Reversed && !move.AndTurn && place.On is not null, Standing.Wanted);
        }
    }

    private static void Movement(SvgWriter svg, DrawingLayout layout, DrawnStep step)
    {
        switch (step.Movement)
        {
            case MoveLead move:
                MovementDrawing.Move(svg, layout.X(move.From), layout.X(move.To), layout.Y(move.Lead) - 16, step.Number);
                break;
            case MoveClamp move:
                MovementDrawing.Move(svg, layout.X(move.From), layout.X(move.To), layout.Y(move.Clamp) - 19, step.Number);
                break;
            case TurnClamp turn:
                MovementDrawing.Turn(svg, layout.X(turn.On), layout.Y(turn.Clamp), step.Number);
                break;
            case SetRatio set:
                MovementDrawing.Ratio(svg, layout.X(Service.HomeOf(set.Clamp)), layout.Y(set.Clamp), set.Scale, step.Number);
                break;
            case SetService:
                // A setting of the recorder: said in words, nothing at the board moves.
                break;
            default:
                throw new ArgumentOutOfRangeException(nameof(step), step.Movement, "This is a bug in Leadwright: a movement that can't be drawn.");
        }
    }

    /// <summary>The colours of ink and paper that all parts of the drawing share.</summary>
    internal static (string Ink, string Paper) Colours => (Ink, Paper);
}
