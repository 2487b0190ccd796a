using System.Collections.Immutable;

namespace Leadwright.Documents.Drawings;

/// <summary>A drawing of paths and texts that every kind of document can show: as vectors in PDF, as SVG in a page.</summary>
/// <param name="Width">Width in its own units.</param>
/// <param name="Height">Height in its own units; y runs downwards.</param>
/// <param name="Marks">What is drawn, in the order of drawing.</param>
public sealed record Drawing(double Width, double Height, ImmutableArray<Mark> Marks)
{
    /// <summary>What it is, in a few words.</summary>
    public string Title { get; init; } = "";

    /// <summary>What it shows, for those who can't see it.</summary>
    public string Description { get; init; } = "";
}

/// <summary>Something drawn.</summary>
public abstract record Mark;

/// <summary>A path, filled, stroked or both.</summary>
/// <param name="Steps">The path.</param>
/// <param name="Ink">How it is drawn.</param>
public sealed record PathMark(ImmutableArray<PathStep> Steps, Ink Ink) : Mark;

/// <summary>A line of text.</summary>
/// <param name="X">Where it is anchored.</param>
/// <param name="Y">Its baseline.</param>
/// <param name="Runs">The text, in runs of one size and weight.</param>
/// <param name="Anchor">Which point of the line stands at <paramref name="X"/>.</param>
/// <param name="Colour">Its colour.</param>
public sealed record TextMark(double X, double Y, ImmutableArray<TextRun> Runs, TextAnchor Anchor, Colour Colour) : Mark
{
    /// <summary>Width into which it is squeezed; 0 for its own.</summary>
    public double FitWidth { get; init; }

    /// <summary>Extra room after each letter.</summary>
    public double Spacing { get; init; }

    /// <summary>True when it stands on its end, read from below.</summary>
    public bool IsUpright { get; init; }

    /// <summary>True for paper behind it, so that lines do not run through it.</summary>
    public bool HasHalo { get; init; }

    /// <summary>The text without its looks.</summary>
    public string Text => string.Concat(Runs.Select(run => run.Text));
}

/// <summary>A piece of text in one size and weight.</summary>
/// <param name="Text">The text.</param>
/// <param name="Size">Size of the letters.</param>
/// <param name="IsBold">Bold or medium.</param>
/// <param name="Gap">Room before it.</param>
public sealed record TextRun(string Text, double Size, bool IsBold = false, double Gap = 0);

/// <summary>Which point of a line of text stands at its place.</summary>
public enum TextAnchor
{
    /// <summary>Its start.</summary>
    Start,

    /// <summary>Its middle.</summary>
    Middle,

    /// <summary>Its end.</summary>
    End,
}

/// <summary>How a path is drawn.</summary>
public sealed record Ink
{
    /// <summary>Colour inside; null for none.</summary>
    public Colour? Fill { get; init; }

    /// <summary>Pattern inside, over the colour; null for none.</summary>
    public DrawingPattern? Pattern { get; init; }

    /// <summary>How much of the fill covers what is below, 0 to 1.</summary>
    public double FillOpacity { get; init; } = 1;

    /// <summary>Colour of the line; null for none.</summary>
    public Colour? Stroke { get; init; }

    /// <summary>Width of the line.</summary>
    public double StrokeWidth { get; init; } = 1;

    /// <summary>How much of the line covers what is below, 0 to 1.</summary>
    public double StrokeOpacity { get; init; } = 1;

    /// <summary>Dashes and gaps by turns; empty for a full line.</summary>
    public ImmutableArray<double> Dashes { get; init; } = [];

    /// <summary>True for round corners and ends.</summary>
    public bool IsRound { get; init; }
}

/// <summary>A tile that is repeated inside a path.</summary>
/// <param name="Size">Width and height of the tile.</param>
/// <param name="Marks">What is on the tile.</param>
public sealed record DrawingPattern(double Size, ImmutableArray<PathMark> Marks);

/// <summary>What a step of a path does.</summary>
public enum PathStepKind
{
    /// <summary>Goes to a place without drawing.</summary>
    Move,

    /// <summary>Draws a straight line.</summary>
    Line,

    /// <summary>Draws a cubic Bézier curve.</summary>
    Curve,

    /// <summary>Goes back to where the last move went.</summary>
    Close,
}

/// <summary>A step of a path.</summary>
/// <param name="Kind">What it does.</param>
/// <param name="X">Where it ends.</param>
/// <param name="Y">Where it ends.</param>
/// <param name="FirstX">First handle of a curve.</param>
/// <param name="FirstY">First handle of a curve.</param>
/// <param name="SecondX">Second handle of a curve.</param>
/// <param name="SecondY">Second handle of a curve.</param>
public readonly record struct PathStep(
    PathStepKind Kind, double X = 0, double Y = 0, double FirstX = 0, double FirstY = 0, double SecondX = 0, double SecondY = 0);
