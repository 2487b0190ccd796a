using System.Collections.Immutable;
using System.CommandLine;
using System.Text;
using Leadwright.App.Hosting.Surveys;
using Leadwright.App.Verbs.Studying;
using Leadwright.App.Verbs.Surveying;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Wording;
using Leadwright.Documents.Figures;
using Leadwright.Documents.Html;
using Leadwright.Documents.Layout;
using Leadwright.Documents.Model;
using Leadwright.Documents.Pdf;
using Leadwright.Documents.Reports;
using Leadwright.Documents.Words;
using Leadwright.Documents.Workbooks;

namespace Leadwright.App.Verbs.Reporting;

/// <summary>The verb <c>report</c>: the document for the customer.</summary>
public sealed class ReportVerb
{
    private readonly ReportVerbOptions _options = new();

    /// <summary>The command with its options.</summary>
    /// <param name="output">Receives what was written.</param>
    /// <param name="error">Receives progress and what can't be used.</param>
    public Command Command(TextWriter output, TextWriter error)
    {
        var command = new Command("report", "Writes the document for the customer: hook-up with its proof, what was mended and lost, load study, voltage quality, findings.\n"
            + "Exit codes: 0 written, nothing wrong found; 10 written, with faults of the hook-up or limits not met in it; 11 written, the hook-up could not be decided; 1 an input can't be used, 2 wrong usage.");
        _options.AddTo(command);
        command.SetAction((parsed, cancellation) => Task.Run(() => RunAsync(parsed, output, error, cancellation), cancellation));
        return command;
    }

    private async Task<int> RunAsync(ParseResult parsed, TextWriter output, TextWriter error, CancellationToken cancellation)
    {
        if (_options.ShowsWords(parsed))
        {
            output.Write(Encoding.UTF8.GetString(ReportWords.Shipped()));
            return (int)ExitCode.NothingWrong;
        }

        try
        {
            var request = _options.RequestOf(parsed, ProgramName.WithVersion());
            var inputs = SurveyInput.Of(InputPaths.WithoutCompanions(_options.FilesOf(parsed)), request.Study.Recording, refusal => throw refusal, "log", "samples");
            if (inputs.Count != 1)
                throw new InputRefusedException(ExitCode.WrongUsage, $"A report is made of one recording: name one file, or one recording of the survey with --recording.{SurveyInput.NamesOf(inputs)}");
            var path = inputs[0].Path;
            if (request.Outputs.Any(wanted => Path.GetFullPath(wanted) == Path.GetFullPath(path)))
                throw new InputRefusedException(ExitCode.WrongUsage, $"-o: '{path}' is the recording itself, which is never changed.");
            request = ReportSurvey.Complete(request with { Study = inputs[0].Complete(request.Study), Known = _options.KnownOf(parsed, inputs[0].State) }, inputs[0].State);
            if (!_options.SaysLoad(parsed) && StudyChoices.Of(inputs[0].State) is { } load) request = request with { Study = request.Study with { Load = load } };
            if (inputs[0] is { State: { } state, Recording: { } recording }) request = request with { Withdrawn = CorrectionLayers.OffOf(state, recording) };
            using var spoken = Say.By(request.Settings.Words.Spoken);
            var subject = ReportSurvey.WithProofs(ReportRun.Subject(path, request, error, cancellation), path, inputs[0].State);
            var document = ReportSurveyParts.AddTo(ReportBuilder.Build(subject, request.Settings), inputs[0].State, inputs[0].Recording);
            var files = ImmutableArray.CreateBuilder<(string Path, byte[] Bytes)>();
            foreach (var wanted in request.Outputs) files.Add((wanted, await BytesAsync(document, wanted, request, cancellation)));
            if (request.Figures is { } folder)
            {
                foreach (var (name, bytes) in FigureFiles.Of(document))
                {
                    cancellation.ThrowIfCancellationRequested();
                    files.Add((Path.Combine(folder, name), bytes));
                }
            }

            cancellation.ThrowIfCancellationRequested();
            ReportFiles.Write(files.ToImmutable());
            output.Write(request.IsJson ? ReportJson.Line(path, document, files.ToImmutable()) + "\n" : string.Concat(files.Select(file => $"Written: {file.Path}\n")));
            return (int)CodeOf(subject);
        }
        catch (InputRefusedException refusal)
        {
            error.WriteLine(refusal.Message);
            return (int)refusal.ExitCode;
        }
        catch (FormatException refusal)
        {
            error.WriteLine($"Cannot use the letterhead: {refusal.Message}");
            return (int)ExitCode.InputUnusable;
        }
    }

    /// <summary>A document as the bytes of a file.</summary>
    /// <param name="document">The document.</param>
    /// <param name="path">The file, whose ending says the format.</param>
    /// <param name="request">The paper.</param>
    /// <param name="cancellation">Ends it early.</param>
    internal static async Task<byte[]> BytesAsync(ReportDocument document, string path, ReportRequest request, CancellationToken cancellation) => Path.GetExtension(path).ToLowerInvariant() switch
    {
        ".html" => Encoding.UTF8.GetBytes(HtmlReport.Write(document)),
        ".xlsx" => await WorkbookReport.WriteAsync(document, cancellation),
        _ => PdfReport.Write(document, request.Paper ?? PaperSize.A4),
    };

    private static ExitCode CodeOf(ReportSubject subject)
    {
        var isFaulty = subject.Guard?.Spans.Any(span => !span.IsDoubtful && span.Kind != SpanKind.Outage) == true || subject.Check?.Verdict.Verdict == Verdict.Faulty;
        if (isFaulty || StudyRun.CodeOf(subject.Study) == ExitCode.FaultsFound) return ExitCode.FaultsFound;
        return subject.Check?.Verdict.Verdict is Verdict.Correct ? ExitCode.NothingWrong : ExitCode.CannotDecide;
    }
}
