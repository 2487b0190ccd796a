using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Logs;
using Leadwright.Core.Studies;
using Leadwright.Core.Studies.Findings;
using Leadwright.Core.Studies.Limits;
using Leadwright.Core.Studies.Load;
using Leadwright.Formats.Limits;
using Leadwright.Reports.Studies;

namespace Leadwright.App.Verbs.Studying;

/// <summary>Studies one input.</summary>
public static class StudyRun
{
    /// <summary>Studies what was read, and writes tables and plots where asked.</summary>
    /// <param name="subject">What was read.</param>
    /// <param name="request">What is asked.</param>
    /// <param name="folder">Folder for tables and plots; null for none.</param>
    /// <param name="other">A record to compare with; null for none.</param>
    /// <exception cref="InputRefusedException">Something can't be written.</exception>
    public static StudyDocument Study(StudySubject subject, StudyRequest request, string? folder, StudySubject? other = null)
    {
        ArgumentNullException.ThrowIfNull(subject);
        ArgumentNullException.ThrowIfNull(request);
        var data = subject.Data;
        var load = LoadStudy.Of(data, WithVolts(request.Load, data));
        var site = request.Site with
        {
            NominalHertz = data.NominalHertz,
            LineVolts = data.Nominal?.LineToLineVolts ?? double.NaN,
            System = request.Site.System ?? SystemOf(data),
        };
        var document = new StudyDocument
        {
            File = subject.Path,
            Service = subject.ServiceName,
            IsServiceKnown = subject.IsServiceKnown,
            Data = data,
            Load = load,
            Voltages = VoltageLevel.Of(data),
            UnbalancePercent = data.Series(LogQuantity.VoltageUnbalance, LogPlace.Whole)?.Percentile(95) ?? double.NaN,
            Events = subject.Events,
            Limits = [.. request.Limits.Select(table => new LimitReport(table, LimitCheck.Judge(data, table, site)))],
            Curves = request.Curves,
            WorstDays = WorstDays.Of(data, load, subject.Events ?? []),
            Patterns = EventPatterns.Of(data, load?.Power, subject.Events),
            CannotShow = RecordLimits.Of(data, subject.Events is not null),
            Comparison = ComparisonOf(data, other, request),
            Notes = [.. NominalNote.Of(NominalMisfit.Find(data.Log, data.Service, data.Nominal)), .. subject.Notes],
            Corrections = subject.Corrections,
        };
        var metrics = StudyMetrics.Of(data, load, document.Voltages, subject.Events ?? [], document.Limits.SelectMany(report => report.Lines), request.Curves);
        document = document with { Findings = Finding.Of(metrics, FindingRuleReader.ReadShipped()) };
        return folder is null ? document : document with { Written = StudyFiles.Write(folder, [.. StudyTables.Of(document), .. StudyPlots.Of(document)]) };
    }

    /// <summary>What the shell is told: 10 when a limit failed, 11 when limits were asked for and none could be judged.</summary>
    /// <param name="document">The study.</param>
    public static ExitCode CodeOf(StudyDocument document)
    {
        ArgumentNullException.ThrowIfNull(document);
        var lines = document.Limits.SelectMany(report => report.Lines).ToList();
        if (lines.Exists(line => line.Verdict == LimitVerdict.Fail)) return ExitCode.FaultsFound;
        return document.Limits.IsEmpty || lines.Exists(line => line.Verdict == LimitVerdict.Pass) ? ExitCode.NothingWrong : ExitCode.CannotDecide;
    }

    private static StudyComparison? ComparisonOf(StudyData data, StudySubject? other, StudyRequest request)
    {
        if (other is not null) return StudyComparison.Of(other.Data, data, request.InstrumentPercent);
        if (request.Split is not { } time) return null;
        if (time <= data.Log.From || time >= data.Log.To)
        {
            throw new InputRefusedException(
                ExitCode.WrongUsage, FormattableString.Invariant($"--split: {time:yyyy-MM-dd HH:mm} is not within the record, {Core.Logs.RecordTime.Text(data.Log.From, "yyyy-MM-dd HH:mm")} to {data.Log.To:yyyy-MM-dd HH:mm}."));
        }

        return StudyComparison.Of(data.Between(DateTime.MinValue, time), data.Between(time, DateTime.MaxValue), request.InstrumentPercent);
    }

    private static LoadStudyOptions WithVolts(LoadStudyOptions options, StudyData data)
    {
        if (options.Rating is not { } rating) return options;
        var isSingle = data.Service is ServiceKind.Single or ServiceKind.Split or ServiceKind.Network;
        return options with
        {
            Rating = rating with
            {
                PhaseCount = isSingle ? 1 : 3,
                Volts = rating.Volts ?? (data.Service == ServiceKind.Single ? data.Nominal?.LineToNeutralVolts : data.Nominal?.LineToLineVolts),
            },
        };
    }

    // The nominal systems of ANSI C84.1 by service and voltage.
    private static string? SystemOf(StudyData data)
    {
        if (data.Nominal is not { } nominal) return null;
        var volts = (int)Math.Round(nominal.LineToLineVolts);
        return (data.Service, volts) switch
        {
            (ServiceKind.Split, 240) => "120/240 split",
            (ServiceKind.Wye or ServiceKind.Network, >= 206 and <= 210) => "208Y/120",
            (ServiceKind.Wye, >= 478 and <= 482) => "480Y/277",
            (ServiceKind.HighLeg, 240) => "240/120 high-leg",
            (ServiceKind.Delta or ServiceKind.DeltaTwoClamp, 240) => "240",
            (ServiceKind.Delta or ServiceKind.DeltaTwoClamp, 480) => "480",
            (ServiceKind.Delta or ServiceKind.DeltaTwoClamp, 600) => "600",
            _ => null,
        };
    }
}
