using System.Collections.Immutable;
using System.Security.Cryptography;
using System.Text;
using Leadwright.Core.Wording;
using Leadwright.Documents.Model;
using Leadwright.Documents.Words;

namespace Leadwright.Documents.Reports;

/// <summary>Makes the report of a survey: parts, tables, charts and words from what the checks and studies gave. It computes nothing of its own.</summary>
public static class ReportBuilder
{
    /// <summary>The names of the parts, in their order.</summary>
    public static ImmutableArray<string> PartNames { get; } =
        ["summary", "site", "hook-up", "watch", "mended", "load", "voltage", "events", "findings", "not-shown", "method", "data", "cautions", "signature"];

    /// <summary>Builds the report.</summary>
    /// <param name="subject">What it is made from.</param>
    /// <param name="settings">How.</param>
    public static ReportDocument Build(ReportSubject subject, ReportSettings settings)
    {
        ArgumentNullException.ThrowIfNull(subject);
        ArgumentNullException.ThrowIfNull(settings);
        using var spoken = Say.By(settings.Words.Spoken);
        var context = new ReportContext(subject, settings);
        var words = settings.Words;
        var letterhead = settings.Letterhead;
        var parts = PartNames.Where(name => settings.Parts.IsEmpty || settings.Parts.Contains(name))
            .Select(name => new ReportPart(name, words.Of($"part.{name}"), [.. BlocksOf(name, context).Select(TableNames.Said)]) { IsOnNewPage = name is "summary" or "site" })
            .Where(part => part.Blocks.Length > 0).ToImmutableArray();
        var log = subject.Recorded.Log;
        return new ReportDocument
        {
            Title = words.Of("title"),
            Subtitle = letterhead.Site.Length > 0 ? letterhead.Panel.Length > 0 ? $"{letterhead.Site}, {letterhead.Panel}" : letterhead.Site : Path.GetFileName(subject.Study.File),
            Letterhead = letterhead,
            Language = words.Language,
            Facts = [.. context.Facts(isShort: true)],
            Parts = parts,
            LongTables = [.. DataPart.LongTables(context).Select(TableNames.Said).Cast<TableBlock>()],
            Date = settings.Date?.ToDateTime(default) ?? log.To,
            Identity = Identity(subject, settings),
            Producer = settings.Program,
            Words = new PageWords(words.Of("page"), words.Of("contents"), words.Of("figure"), words.Of("table"), words.Of("continued"), words.Of("skip")),
        };
    }

    private static IEnumerable<Block> BlocksOf(string name, ReportContext context) => name switch
    {
        "summary" => SummaryPart.Blocks(context),
        "site" => DataPart.Site(context),
        "hook-up" => HookupPart.Blocks(context),
        "watch" => WatchPart.Blocks(context),
        "mended" => MendPart.Blocks(context),
        "load" => LoadPart.Blocks(context),
        "voltage" => VoltagePart.Blocks(context),
        "events" => VoltagePart.Events(context),
        "findings" => FindingsPart.Blocks(context),
        "not-shown" => FindingsPart.NotShown(context),
        "method" => DataPart.Method(context),
        "data" => DataPart.Data(context),
        "cautions" => DataPart.Cautions(context),
        _ => DataPart.Signature(context),
    };

    // Follows from the files, the program and what was asked; never from the clock.
    private static ImmutableArray<byte> Identity(ReportSubject subject, ReportSettings settings)
    {
        var text = new StringBuilder(settings.Program);
        foreach (var file in subject.Files) text.Append('\n').Append(file.Sha256);
        text.Append('\n').AppendJoin(',', settings.Parts).Append('\n').Append(settings.Date).Append('\n').Append(settings.Letterhead.Number).Append('\n').Append(settings.Letterhead.Site);
        text.Append('\n').Append(subject.Study.Service).Append(subject.Study.Data.Nominal).AppendJoin(',', subject.Study.Limits.Select(report => report.Table.Name));
        return [.. SHA256.HashData(Encoding.UTF8.GetBytes(text.ToString())).AsSpan(0, 16)];
    }
}
