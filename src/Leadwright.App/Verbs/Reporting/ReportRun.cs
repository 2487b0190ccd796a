using System.Collections.Immutable;
using System.Security.Cryptography;
using Leadwright.App.Verbs.Guarding;
using Leadwright.App.Verbs.Measuring;
using Leadwright.App.Verbs.Studying;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;
using Leadwright.Core.Mending;
using Leadwright.Core.Studies;
using Leadwright.Core.Studies.Events;
using Leadwright.Core.Studies.Load;
using Leadwright.Documents.Reports;
using Leadwright.Formats;
using Leadwright.Reports.Hookups;

namespace Leadwright.App.Verbs.Reporting;

/// <summary>Brings together what a report is made from: the recording, guarded, checked, mended and studied.</summary>
internal static class ReportRun
{
    // Fewer rows measured from samples than this tell less than the samples themselves.
    private const int ShortRows = 60;

    // A recording above this is not read into memory as a whole.
    private const long MostBytes = 256L << 20;

    private static readonly string[] s_companions = [".cfg", ".dat", ".hdr", ".inf"];

    /// <summary>Reads a recording and judges it.</summary>
    /// <param name="path">The file.</param>
    /// <param name="request">How.</param>
    /// <param name="error">Receives progress.</param>
    /// <param name="cancellation">Ends it early.</param>
    /// <exception cref="InputRefusedException">It can't be used.</exception>
    public static ReportSubject Subject(string path, ReportRequest request, TextWriter error, CancellationToken cancellation)
    {
        var read = StudyInput.Read(path, request.Study, MeasureProgress.Of(path, error), cancellation);
        var log = read.File?.Log ?? read.Data.Log;
        if (log.Count == 0) throw new InputRefusedException(ExitCode.InputUnusable, $"Cannot report on '{path}': it has no rows. Export the log again.");
        var service = read.Data.Service;
        var isShort = read.File is null && log.Count < ShortRows;
        var guard = (isShort ? SampledGuardOf(path, request, cancellation) : null) ?? IntervalGuard.Judge(
            log, new GuardOptions { Service = service, Nominal = read.Data.Nominal, FrequencyHertz = request.Study.FrequencyHertz, Check = request.Known }, cancellation);
        guard = WithdrawnFinding.TakeOut(WithEvents(guard, read.Events ?? []), request.Withdrawn);
        // What is too short for a table of intervals is not mended; a table that was mended before says so in its standings: it is taken as it is.
        var mend = read.Data.Standings.IsEmpty && !isShort
            ? IntervalMender.Mend(
                log, guard,
                new MendOptions { Service = service, Nominal = read.Data.Nominal, AccuracyPercent = request.AccuracyPercent, DemandMinutes = MinutesOf(request.Study.Load.DemandMinutes, log.IntervalSeconds) }, cancellation)
            : null;
        var studied = mend is { Corrections.IsEmpty: false } ? read with { Data = StudyMending.Mended(read.Data, mend) } : read;
        var other = request.Study.Before is { } before ? StudyInput.Read(before, request.Study, MeasureProgress.Of(before, error), cancellation) : null;
        var study = StudyRun.Study(studied, request.Study, null, other);
        var sampled = read.File is null ? SampledCheckOf(path, request) : null;
        var (check, from, to) = sampled is { } proved ? (proved.Check, log.From, log.To) : Check(path, log, guard, read, request, cancellation);
        return new ReportSubject
        {
            Files = FilesOf(path),
            Recorded = read.Data,
            Study = study,
            Guard = guard,
            Mend = mend,
            Check = check,
            CheckSpan = (from, to),
            Naming = request.Naming ?? ConductorNaming.Letters,
            Channels = read.File is { } file ? LogSubject.ChannelsOf(file) : sampled?.Channels ?? [],
            Notes = read.Notes,
            IsSampled = read.File is null,
            IsServiceKnown = request.Study.Service is not null || check is not null,
            AccuracyPercent = request.AccuracyPercent,
        };
    }

    // The first length that the log's interval can give, as the study takes it: one report must not tell of two highest demands.
    private static double MinutesOf(ImmutableArray<double> lengths, double seconds) =>
        lengths.FirstOrDefault(minutes => Demand.CanForm(minutes, seconds), lengths[0]);

    // The guard weighs a lead that is off against an outage, not against the dips that the samples show: where both are told of one moment, neither is sure.
    private static GuardReport WithEvents(GuardReport guard, ImmutableArray<StudyEvent> events) => guard with
    {
        Spans =
        [
            .. guard.Spans.Select(span => span.Kind == SpanKind.LeadOpen && events.Any(found =>
                    found.HasMagnitude && found.Start <= span.To && found.End >= span.From && found.Channels.Any(channel => span.Leads.Any(lead => channel.Contains(lead.ToString(), StringComparison.Ordinal))))
                ? span with { Confidence = Math.Min(span.Confidence, 0.5) } : span),
        ],
    };

    // Null where the samples do not allow it: the measured rows are judged then.
    private static GuardReport? SampledGuardOf(string path, ReportRequest request, CancellationToken cancellation)
    {
        if (!IsSmall(path)) return null;
        try
        {
            return GuardRun.Judge(path, new GuardRequest(request.Study, request.Known), cancellation).Report;
        }
        catch (InputRefusedException)
        {
            return null;
        }
        catch (FormatReadException)
        {
            return null;
        }
    }

    // Samples prove more than the rows measured from them.
    private static (CheckDocument Check, ImmutableArray<MatchedChannel> Channels)? SampledCheckOf(string path, ReportRequest request)
    {
        if (!IsSmall(path)) return null;
        try
        {
            var subject = new CheckInput().ReadAsync(path, new CheckRequest(request.Study), CancellationToken.None).GetAwaiter().GetResult();
            var verdict = HookupCheck.Judge(subject.Readings, request.Known);
            return (CheckDocument.Of(Path.GetFileName(path), verdict, request.Naming, subject.Channels), subject.Channels);
        }
        catch (InputRefusedException)
        {
            return null;
        }
    }

    private static bool IsSmall(string path) => FilesNamed(path).Sum(file => new FileInfo(file).Length) <= MostBytes;

    // One hook-up is checked at a time: the one that lasted longest.
    private static (CheckDocument? Check, DateTime From, DateTime To) Check(
        string path, IntervalLog log, GuardReport guard, StudySubject read, ReportRequest request, CancellationToken cancellation)
    {
        var (from, to) = (log.From, log.To);
        if (guard.Timeline.Pieces.Length > 1)
        {
            var longest = guard.Timeline.Pieces.MaxBy(piece => piece.To - piece.From)!;
            (from, to) = (longest.From, longest.To);
        }

        var first = 0;
        while (first < log.Count && log.Starts.Span[first] < from.Ticks) first++;
        var end = first;
        while (end < log.Count && log.Starts.Span[end] < to.Ticks) end++;
        cancellation.ThrowIfCancellationRequested();
        if (PanelLog.Read(log, first, end - first, read.Data.Service, read.Data.Nominal) is not { } readings) return (null, from, to);
        var verdict = HookupCheck.Judge(readings with { IsServiceOpen = request.Study.Service is null, FrequencyHertz = request.Study.FrequencyHertz }, request.Known);
        return (CheckDocument.Of(Path.GetFileName(path), verdict, request.Naming), from, to);
    }

    private static List<string> FilesNamed(string path)
    {
        var files = new List<string> { path };
        if (s_companions.Contains(Path.GetExtension(path).ToLowerInvariant(), StringComparer.Ordinal))
            files.AddRange(s_companions.Select(ending => InputPaths.Beside(path, ending)).OfType<string>().Where(other => Path.GetFullPath(other) != Path.GetFullPath(path)));
        return files;
    }

    private static ImmutableArray<SourceFile> FilesOf(string path) =>
    [
        .. FilesNamed(path).Select(file =>
        {
            using var stream = File.OpenRead(file);
            return new SourceFile(Path.GetFileName(file), stream.Length, Convert.ToHexStringLower(SHA256.HashData(stream)));
        }),
    ];
}
