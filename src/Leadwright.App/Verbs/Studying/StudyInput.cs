using System.Collections.Immutable;
using Leadwright.App.Verbs.Studying.Measured;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Logs;
using Leadwright.Core.Studies;
using Leadwright.Core.Wording;
using Leadwright.Formats;
using Leadwright.Formats.Csv;
using Leadwright.Formats.Logs;
using Leadwright.Formats.Pqdif;
using Leadwright.Reports.Guarding;

namespace Leadwright.App.Verbs.Studying;

/// <summary>Reads the inputs of a study: a log of intervals as it is, a sampled recording measured into one first.</summary>
public static class StudyInput
{
    private const int HeadBytes = 1 << 16;

    internal static string NoNominal => Say.Of("study-note.no-nominal", "The nominal voltage is not stated: limits that are percent of it are not judged. Give it with --nominal.");

    /// <summary>Reads a file for a study alone: a table that <c>measure</c> wrote column by column as the study asks for them, so that its length and width do not matter; others as
    /// <see cref="Read"/> does.</summary>
    /// <inheritdoc cref="Read"/>
    public static StudySubject ReadColumns(string path, StudyRequest request, Action<double> progress, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(path);
        ArgumentNullException.ThrowIfNull(request);
        return Guarded(path, () => MeasuredTable.Read(path, request, cancellation)) ?? Read(path, request, progress, cancellation);
    }

    /// <summary>Reads a file.</summary>
    /// <param name="path">The file.</param>
    /// <param name="request">What is asked.</param>
    /// <param name="progress">Receives the share done, 0 to 1.</param>
    /// <param name="cancellation">Ends it early.</param>
    /// <exception cref="InputRefusedException">It can't be used.</exception>
    public static StudySubject Read(string path, StudyRequest request, Action<double> progress, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(path);
        ArgumentNullException.ThrowIfNull(request);
        return Guarded(path, () =>
        {
            var kind = InputSniffer.KindOf(HeadOf(path));
            switch (kind)
            {
                case InputKind.LogTable or InputKind.Workbook or InputKind.Parquet:
                    var input = InputOf(path);
                    if (SampleSheets.Holds(input, request.RateHertz)) break;
                    var file = LogReader.Read(input, OptionsOf(request), new ShareProgress(progress), cancellation);
                    // The same rows with their flags, harmonics and events.
                    return MeasuredTable.Read(path, request, cancellation) is { } measured && measured.Data.Log.Count == file.Log.Count ? measured with { File = file } : OfLog(path, file, request);
                case InputKind.Pqdif:
                    var inputs = PqdifReader.ReadInputs(InputOf(path), request.ToPqdifOptions());
                    if (inputs.OfType<LogInput>().FirstOrDefault() is { } log) return OfLog(path, log.File, request);
                    break;
                case InputKind.Readings or InputKind.Unknown:
                    throw new InputRefusedException(
                        ExitCode.InputUnusable,
                        $"Cannot read '{path}': expected a log of intervals (.csv, .xlsx, .parquet, .pqd) or a recording (.cfg with .dat, .cff, .csv), found {(kind == InputKind.Readings ? "readings of one moment" : "something else")}.");
            }

            return StudyMeasurement.Measure(path, request, progress, cancellation);
        });
    }

    private static T Guarded<T>(string path, Func<T> read)
    {
        try
        {
            return read();
        }
        catch (FormatReadException failure)
        {
            var code = failure.Source == "--channels" ? ExitCode.WrongUsage : ExitCode.InputUnusable;
            throw new InputRefusedException(code, failure.Message, failure);
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            throw InputRefusedException.CannotRead(path, failure);
        }
    }

    /// <summary>A log that was read, as a subject.</summary>
    /// <param name="path">Its name.</param>
    /// <param name="file">It.</param>
    /// <param name="request">What is asked.</param>
    /// <exception cref="InputRefusedException">The nominal voltage is none of the service.</exception>
    public static StudySubject OfLog(string path, LogFile file, StudyRequest request)
    {
        ArgumentNullException.ThrowIfNull(file);
        ArgumentNullException.ThrowIfNull(request);
        var service = request.Service?.Kind ?? LogSubject.ServiceFor(file.Log);
        var nominal = NominalOf(request, service);
        var notes = ImmutableArray.CreateBuilder<string>();
        notes.AddRange(request.NotesOfLog);
        notes.AddRange(file.Warnings.Select(warning => warning.Says));
        notes.AddRange(file.Questions);
        notes.AddRange(file.Clock.Where(finding => finding.Kind == ClockFindingKind.Gap).Take(5).Select(ClockWording.Of));
        if (request.Nominal is null && file.Log.Has(LogQuantity.Voltage))
            notes.Add(NoNominal);
        var data = new StudyData(file.Log)
        {
            Standings = file.Standings,
            Service = service,
            Nominal = nominal,
            NominalHertz = request.FrequencyHertz ?? HertzOf(file.Log),
        };
        return new StudySubject(path, data.WithPhaseOfSingle(), Service.Of(service).Name, null, notes.ToImmutable())
        {
            File = file,
            IsServiceKnown = request.Service is not null || file.Log.Columns.Any(column => column.Place != LogPlace.Whole),
        };
    }

    // A logged frequency shows the nominal one.
    private static double HertzOf(IntervalLog log)
    {
        var column = log.IndexOf(LogQuantity.Frequency, LogPlace.Whole);
        if (column < 0) return 0;
        foreach (var value in log.Values(column))
        {
            if (double.IsFinite(value)) return value is > 45 and < 65 ? value < 55 ? 50 : 60 : 0;
        }

        return 0;
    }

    internal static NominalVoltage? NominalOf(StudyRequest request, ServiceKind service)
    {
        if (request.Nominal is not { } text) return null;
        if (NominalVoltage.TryParse(text, service, out var nominal)) return nominal;
        throw new InputRefusedException(
            ExitCode.WrongUsage,
            $"--nominal: '{text}' is no nominal voltage of a {Service.Of(service).Name} service. Write it as on the nameplate, such as 230/400 or 480.");
    }

    private static LogReadOptions OptionsOf(StudyRequest request)
    {
        var service = request.Service?.Kind ?? ServiceKind.Wye;
        return request.ToLogOptions() with
        {
            NominalVolts = request.Nominal is { } text && NominalVoltage.TryParse(text, service, out var nominal) ? nominal?.LineToNeutralVolts : null,
        };
    }

    private static InputFile InputOf(string path) => new(path, File.ReadAllBytes(path));

    // Enough to tell what it is: a recording of samples may be longer than memory.
    private static InputFile HeadOf(string path)
    {
        using var stream = File.OpenRead(path);
        var head = new byte[HeadBytes];
        return new InputFile(path, head.AsMemory(0, stream.ReadAtLeast(head, head.Length, throwOnEndOfStream: false)));
    }

    private sealed class ShareProgress(Action<double> report) : IProgress<double>
    {
        public void Report(double value) => report(value);
    }
}
