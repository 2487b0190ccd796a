using System.Collections.Immutable;
using Leadwright.Documents.Drawings;

namespace Leadwright.Documents.Model;

/// <summary>Something in a part of a document.</summary>
public abstract record Block;

/// <summary>A heading within a part; it stands in the contents and among the bookmarks.</summary>
/// <param name="Text">What it says.</param>
public sealed record HeadingBlock(string Text) : Block;

/// <summary>How a paragraph is set.</summary>
public enum ParagraphStyle
{
    /// <summary>As running text.</summary>
    Normal,

    /// <summary>Larger: the sentence that answers.</summary>
    Lead,

    /// <summary>Smaller: what belongs to a table or figure.</summary>
    Small,
}

/// <summary>A paragraph. Words between two pairs of asterisks stand out.</summary>
/// <param name="Text">The text.</param>
/// <param name="Style">How it is set.</param>
public sealed record ParagraphBlock(string Text, ParagraphStyle Style = ParagraphStyle.Normal) : Block;

/// <summary>A list.</summary>
/// <param name="Items">Its items; words between two pairs of asterisks stand out.</param>
/// <param name="IsNumbered">True for numbers, false for dashes.</param>
public sealed record ListBlock(ImmutableArray<string> Items, bool IsNumbered = false) : Block;

/// <summary>The figures that matter most, large.</summary>
/// <param name="Figures">Two to four of them.</param>
public sealed record KeyFiguresBlock(ImmutableArray<KeyFigure> Figures) : Block;

/// <summary>A figure that matters.</summary>
/// <param name="Label">What it is.</param>
/// <param name="Value">Its value with sensible digits; a dash where it is not known.</param>
/// <param name="Unit">Its unit.</param>
/// <param name="Note">Its interval, its time, its standing.</param>
public sealed record KeyFigure(string Label, string Value, string Unit, string Note);

/// <summary>Questions with their answers.</summary>
/// <param name="Answers">In the order to be read.</param>
public sealed record AnswersBlock(ImmutableArray<QuestionAnswer> Answers) : Block;

/// <summary>A question and its answer.</summary>
/// <param name="Question">The question.</param>
/// <param name="Short">The answer in a word or two.</param>
/// <param name="Text">The answer in one or two sentences.</param>
/// <param name="Mood">Whether it is good.</param>
public sealed record QuestionAnswer(string Question, string Short, string Text, AnswerMood Mood = AnswerMood.Plain);

/// <summary>Whether an answer is good; shown by a sign, never by colour alone.</summary>
public enum AnswerMood
{
    /// <summary>Neither.</summary>
    Plain,

    /// <summary>Good: a full circle.</summary>
    Good,

    /// <summary>In part: a half circle.</summary>
    Partly,

    /// <summary>Not good: a triangle.</summary>
    Bad,

    /// <summary>Not known: an empty circle.</summary>
    Open,
}

/// <summary>A drawing with its caption.</summary>
/// <param name="Drawing">The drawing; a full column is 480 of its units wide, when it was made for print.</param>
/// <param name="Caption">What to see in it.</param>
public sealed record FigureBlock(Drawing Drawing, string Caption) : Block
{
    /// <summary>What stands beside a drawing that is narrower than the column, one paragraph each.</summary>
    public ImmutableArray<string> Beside { get; init; } = [];

    /// <summary>True for a drawing without a number that is left out where the page has no room for it.</summary>
    public bool IsOptional { get; init; }

    /// <summary>Share of the column's width; 1 for all of it.</summary>
    public double WidthShare { get; init; } = 1;
}

/// <summary>Two drawings side by side.</summary>
/// <param name="Left">The left one.</param>
/// <param name="Right">The right one.</param>
public sealed record FigurePairBlock(FigureBlock Left, FigureBlock Right) : Block;

/// <summary>A text that must not be passed over.</summary>
/// <param name="Title">What it is about.</param>
/// <param name="Lines">One or more sentences each.</param>
public sealed record NoticeBlock(string Title, ImmutableArray<string> Lines) : Block;

/// <summary>Lines with a box each, to be ticked by hand or ticked already.</summary>
/// <param name="Items">The lines.</param>
public sealed record TicksBlock(ImmutableArray<TickItem> Items) : Block;

/// <summary>A line with a box.</summary>
/// <param name="Text">What is to be done.</param>
/// <param name="IsDone">True for a tick, false for a box that stayed empty; null for one to be ticked by hand.</param>
/// <param name="Note">What stands behind the text where it stands out; empty for nothing.</param>
public sealed record TickItem(string Text, bool? IsDone = null, string Note = "");

/// <summary>Two columns of blocks that stay on one page.</summary>
/// <param name="Left">The left one.</param>
/// <param name="Right">The right one.</param>
/// <param name="LeftShare">Share of the width that the left one has.</param>
public sealed record ColumnsBlock(ImmutableArray<Block> Left, ImmutableArray<Block> Right, double LeftShare = 0.5) : Block;

/// <summary>Lines to write on by hand.</summary>
/// <param name="Label">What is to be written.</param>
/// <param name="Count">How many.</param>
public sealed record RuledBlock(string Label, int Count) : Block;

/// <summary>Lines to sign on.</summary>
/// <param name="Statement">What is signed.</param>
/// <param name="Signers">One for each line: name, role, and what else is known, each may be empty.</param>
public sealed record SignatureBlock(string Statement, ImmutableArray<Signer> Signers) : Block;

/// <summary>Somebody who signs.</summary>
/// <param name="Role">As what.</param>
/// <param name="Name">The name in print; empty to be written by hand.</param>
/// <param name="Labels">What stands below the lines: signature, name, date.</param>
public sealed record Signer(string Role, string Name, (string Signature, string Name, string Date) Labels);

/// <summary>The list of parts and headings with their pages.</summary>
public sealed record ContentsBlock : Block;
