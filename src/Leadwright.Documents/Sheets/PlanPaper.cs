using System.Collections.Immutable;
using System.Security.Cryptography;
using System.Text;
using Leadwright.Core.Circuits;
using Leadwright.Core.Planning;
using Leadwright.Core.Wording;
using Leadwright.Documents.Drawings;
using Leadwright.Documents.Model;
using Leadwright.Documents.Words;
using Leadwright.Reports.Hookups;
using Leadwright.Reports.Planning;

namespace Leadwright.Documents.Sheets;

/// <summary>Makes the sheet of a plan for the van: connection drawing, boxes for the readings, clamps, interval, lists, cautions.</summary>
public static class PlanPaper
{
    private const int FewPurposes = 2;

    /// <summary>Builds the sheet.</summary>
    /// <param name="sheet">The plan.</param>
    /// <param name="naming">How the site's conductors are called and coloured.</param>
    /// <param name="site">The site's name; empty for none.</param>
    /// <param name="program">The program with its version.</param>
    /// <param name="words">The words; null for the shipped ones.</param>
    public static ReportDocument Build(PlanSheet sheet, ConductorNaming naming, string site, string program, ReportWords? words = null)
    {
        ArgumentNullException.ThrowIfNull(sheet);
        ArgumentNullException.ThrowIfNull(naming);
        words ??= ReportWords.English;
        using var spoken = Say.By(words.Spoken);
        return new ReportDocument
        {
            Title = words.Of("sheet.plan"),
            Subtitle = site ?? "",
            Language = words.Language,
            HasTitlePage = false,
            Parts =
            [
                new ReportPart("connect", words.Of("sheet.plan.connect"), [.. Connect(sheet, naming, words)]),
                new ReportPart("recorder", words.Of("sheet.plan.recorder"), [.. Recorder(sheet, words)]),
                new ReportPart("lists", words.Of("sheet.plan.lists"), [.. Lists(sheet, words)]),
            ],
            Date = default,
            Identity = IdentityOf(PlanJson.Line(sheet, site ?? ""), naming.Scheme, program, words.Language),
            Producer = program,
            Words = FrameOf(words),
        };
    }

    internal static PageWords FrameOf(ReportWords words) =>
        new(words.Of("page"), words.Of("contents"), words.Of("figure"), words.Of("table"), words.Of("continued"), words.Of("skip"))
        {
            Box = words.Of("box.open"), Done = words.Of("box.done"), NotDone = words.Of("box.not-done"),
        };

    internal static ImmutableArray<byte> IdentityOf(params ReadOnlySpan<string> texts) =>
        [.. SHA256.HashData(Encoding.UTF8.GetBytes(string.Join('\n', texts!))).AsSpan(0, 16)];

    internal static string ServiceLine(SurveyPlan plan, ReportWords words) => string.Create(
        System.Globalization.CultureInfo.InvariantCulture, $"{Capital(words.Of($"service.{plan.Service.ToString().ToLowerInvariant()}"))}, {ServiceWording.Nominal(plan.Service, plan.Nominal)} V, {plan.FrequencyHertz:0.##} Hz.");

    internal static TableBlock Readings(PlanSheet sheet, ReportWords words)
    {
        var rows = ImmutableArray.CreateBuilder<TableRow>();
        foreach (var reading in sheet.Readings)
            rows.Add(TableRow.Of(new TableCell($"{reading.Channel}") { IsStrong = true }, PlanWording.Size(reading), PlanWording.AngleOf(reading), "", ""));
        foreach (var power in sheet.Powers)
        {
            var watts = power.Watts is { } value ? $"{words.Digits(value / 1000, 3)} kW" : "–";
            rows.Add(TableRow.Of(new TableCell($"P{power.Phase}") { IsStrong = true }, watts, $"PF {PlanWording.PowerFactor(power)}", "", ""));
        }

        return new TableBlock(
            Say.Of("list.readings", "Readings"), "",
            [new(words.Of("col.channel")), new(words.Of("sheet.plan.expected")), new(words.Of("sheet.plan.angle")), new(words.Of("sheet.plan.read")), new(words.Of("sheet.plan.angle-read"))],
            rows.ToImmutable())
        { IsForm = true };
    }

    private static IEnumerable<Block> Connect(PlanSheet sheet, ConductorNaming naming, ReportWords words)
    {
        yield return new ParagraphBlock(ServiceLine(sheet.Plan, words), ParagraphStyle.Lead);
        yield return new NoticeBlock("", [Cautions.Line]);
        if (!sheet.Warnings.IsEmpty) yield return new NoticeBlock(words.Of("sheet.plan.fits-not"), [.. sheet.Warnings.Select(warning => PlanWording.Warning(warning, sheet))]);
        var small = new List<string> { words.Of("sheet.plan.angles") };
        if (sheet.Plan.Service == ServiceKind.DeltaTwoClamp) small.Add(words.Of("sheet.plan.elements"));
        if (sheet.Plan.MayExport) small.Add(words.Of("sheet.plan.export"));
        yield return new ColumnsBlock(
            [
                new FigureBlock(SvgDrawing.Read(ConnectionDrawing.Svg(sheet, naming)), ""),
                new ParagraphBlock(naming.Scheme.Length > 0 ? $"{naming.Caption}. {ColourScheme.Caution}" : ColourScheme.Caution, ParagraphStyle.Small),
            ],
            [Readings(sheet, words), new ParagraphBlock(string.Join(' ', small), ParagraphStyle.Small)],
            0.4);
    }

    private static IEnumerable<Block> Recorder(PlanSheet sheet, ReportWords words)
    {
        yield return new ParagraphBlock(words.Of("sheet.plan.interval", ("interval", PlanWording.Seconds(sheet.IntervalSeconds)), ("days", words.Number(sheet.Days, "0.##"))));
        var reasons = sheet.Needs.Select(need => $"{PlanWording.Name(need.Purpose)}: {PlanWording.Why(need.Purpose)}.").ToList();
        // The reasons of many purposes are small print, what was worked out for this panel is not.
        var isLong = reasons.Count > FewPurposes;
        if (isLong) yield return new ParagraphBlock(string.Join(' ', reasons), ParagraphStyle.Small);
        var lines = isLong ? [] : reasons;
        lines.Add(sheet is { SuitableRangeAmperes: { } range, PeakAmperes: { } peak }
            ? words.Of("sheet.plan.range", ("range", words.Number(range, "0")), ("peak", words.Digits(peak, 3))) : words.Of("sheet.plan.no-load"));
        lines.Add(PlanWording.Clamp(sheet));
        lines.Add(PlanWording.Memory(sheet));
        if (sheet.Plan.Recorder is { BatteryHours: { } hours } recorder)
            lines.Add(words.Of("sheet.plan.battery", ("hours", words.Number(hours, "0.#")), ("outage", words.Number(recorder.OutageHours, "0.#"))));
        yield return new ListBlock([.. lines.Where(line => line.Length > 0)]);
    }

    private static IEnumerable<Block> Lists(PlanSheet sheet, ReportWords words)
    {
        yield return new ColumnsBlock(
            [new HeadingBlock(words.Of("sheet.plan.bag")), new TicksBlock([.. PlanWording.Bag.Select(line => new TickItem(line))])],
            [new HeadingBlock(words.Of("sheet.plan.panel")), new TicksBlock([.. PlanWording.Panel.Select(line => new TickItem(line))])]);
        // The first caution stands on top of the sheet.
        yield return new NoticeBlock(words.Of("cautions.title"), [.. Cautions.Full.Skip(1)]);
        // What many purposes need room for is taken from the notes: two pages are what goes on a clipboard.
        yield return new RuledBlock(words.Of("sheet.leaving.note"), sheet.Needs.Length > FewPurposes ? 2 : 4);
        yield return new SignatureBlock("", [new Signer(words.Of("sheet.plan.by"), "", (words.Of("sign.name"), words.Of("sheet.plan.recorder-number"), words.Of("sheet.plan.date")))]);
    }

    private static string Capital(string text) => text.Length > 0 ? char.ToUpperInvariant(text[0]) + text[1..] : text;
}
