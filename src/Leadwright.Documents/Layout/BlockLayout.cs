using System.Collections.Immutable;
using Leadwright.Documents.Model;
using Leadwright.Documents.Pdf;

namespace Leadwright.Documents.Layout;

/// <summary>Lays out the blocks of a document one after the other, counting its figures and tables.</summary>
internal sealed class BlockLayout
{
    private int _figure, _table;

    /// <summary>The slices of some blocks.</summary>
    /// <param name="blocks">The blocks.</param>
    /// <param name="sheet">The sheet or the column that they stand on.</param>
    /// <param name="section">The element that they belong to.</param>
    /// <param name="headings">Where links to their headings lead, in order; empty where none do.</param>
    public List<Slice> Slices(ImmutableArray<Block> blocks, Sheet sheet, PdfElement section, ImmutableArray<PdfTarget> headings)
    {
        var slices = new List<Slice>();
        var next = 0;
        foreach (var (index, block) in blocks.Index())
        {
            // What belongs to a table stays with it: small print below, the sentence that leads to it above.
            if (block is ParagraphBlock { Style: ParagraphStyle.Small } && slices.Count > 0) slices[^1].KeepsWithNext = true;
            slices.AddRange(block switch
            {
                HeadingBlock heading => TextBlocks.Heading(heading.Text, sheet, section, next < headings.Length ? headings[next++] : null),
                ParagraphBlock paragraph => TextBlocks.Paragraph(paragraph, sheet, section),
                ListBlock list => TextBlocks.List(list, sheet, section),
                NoticeBlock notice => TextBlocks.Notice(notice, sheet, section),
                SignatureBlock signature => TextBlocks.Signature(signature, sheet, section),
                KeyFiguresBlock key => FigureBlocks.KeyFigures(key, sheet, section),
                AnswersBlock answers => FigureBlocks.Answers(answers, sheet, section),
                FigureBlock drawing => FigureBlocks.Figure(drawing, sheet, section, drawing.IsOptional || drawing.Caption.Length == 0 ? 0 : ++_figure),
                FigurePairBlock pair => FigureBlocks.Pair(pair, sheet, section, (_figure += 2) - 1),
                TableBlock rows => TableLayout.Table(rows, sheet, section, rows.Caption.Length > 0 && !rows.Rows.IsEmpty ? ++_table : 0),
                TicksBlock ticks => FormBlocks.Ticks(ticks, sheet, section),
                RuledBlock ruled => FormBlocks.Ruled(ruled, sheet, section),
                ColumnsBlock columns => [Columns(columns, sheet, section)],
                _ => [],
            });
            if (block is ParagraphBlock paragraphs && index + 1 < blocks.Length && slices.Count > 0
                && (paragraphs.Style == ParagraphStyle.Lead || blocks[index + 1] is TableBlock { Rows.IsEmpty: false } or FigureBlock or FigurePairBlock or KeyFiguresBlock or SignatureBlock))
                slices[^1].KeepsWithNext = true;
        }

        return slices;
    }

    private Slice Columns(ColumnsBlock block, Sheet sheet, PdfElement section)
    {
        const double Gap = 22;
        var middle = sheet.Left + (block.LeftShare * (sheet.Width - Gap));
        var left = Stack(Slices(block.Left, sheet with { Right = middle }, section.Add("Div"), []));
        var right = Stack(Slices(block.Right, sheet with { Left = middle + Gap }, section.Add("Div"), []));
        return new Slice
        {
            Height = Math.Max(left.Height, right.Height),
            SpaceBefore = 6,
            Draw = (page, y) =>
            {
                foreach (var (at, slice) in left.Slices.Concat(right.Slices)) slice.Draw(page, y + at);
            },
        };
    }

    private static (double Height, List<(double At, Slice Slice)> Slices) Stack(List<Slice> slices)
    {
        var (at, placed) = (0.0, new List<(double, Slice)>());
        foreach (var slice in slices)
        {
            if (placed.Count > 0) at += slice.SpaceBefore;
            placed.Add((at, slice));
            at += slice.Height;
        }

        return (at, placed);
    }
}
