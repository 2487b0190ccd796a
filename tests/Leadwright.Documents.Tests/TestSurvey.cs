using System.Collections.Immutable;
using System.Runtime.CompilerServices;
using System.Security.Cryptography;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;
using Leadwright.Core.Mending;
using Leadwright.Core.Panels.Weeks;
using Leadwright.Core.Studies;
using Leadwright.Core.Studies.Findings;
using Leadwright.Core.Studies.Limits;
using Leadwright.Core.Studies.Load;
using Leadwright.Documents.Model;
using Leadwright.Documents.Reports;
using Leadwright.Formats;
using Leadwright.Formats.Limits;
using Leadwright.Formats.Logs;
using Leadwright.Reports.Hookups;
using Leadwright.Reports.Studies;

namespace Leadwright.Documents.Tests;

/// <summary>Makes the subjects that reports of the tests are made from: invented weeks, and the real logs of tests/data.</summary>
internal static class TestSurvey
{
    public static readonly NominalVoltage Wye = new(230, 400);

    private static readonly Lazy<ReportSubject> s_week = new(WeekAnew), s_halfLost = new(HalfLostAnew);

    /// <summary>A week at an invented office: clamp 2 faces the source from Wednesday noon on, and the recorder is off for a night.</summary>
    public static ReportSubject Week() => s_week.Value;

    /// <summary>The same, worked out anew.</summary>
    public static ReportSubject WeekAnew() => Of(Log(
        new Mishap(MishapKind.ClampReversed, 2.5 * 86400, 7 * 86400, 1), new Mishap(MishapKind.RecorderOff, 4.9 * 86400, 5.25 * 86400)));

    /// <summary>The same week of which half was never written.</summary>
    public static ReportSubject HalfLost() => s_halfLost.Value;

    private static ReportSubject HalfLostAnew() => Of(Without(Log(), row => row % 288 is >= 60 and < 204));

    public static IntervalLog Log(params ImmutableArray<Mishap> mishaps) => VirtualWeek.Make(new WeekRecipe
    {
        Service = ServiceKind.Wye, Nominal = Wye, Seed = 11, IntervalSeconds = 600, Mishaps = mishaps,
    }).Log;

    public static ReportSettings Settings() => new()
    {
        Program = "Leadwright 0.0 test",
        Letterhead = new Letterhead
        {
            Name = "Invented Survey Works", Lines = ["1 Example Street"], Author = "A. Sample", Customer = ["Invented Bakery Ltd."], Site = "Invented Bakery", Panel = "board MDB-1", Number = "R-17",
        },
    };

    /// <summary>Guards, checks, mends and studies a log, as the program does.</summary>
    public static ReportSubject Of(IntervalLog log, ServiceKind service = ServiceKind.Wye, NominalVoltage? nominal = null, string name = "invented-week.csv")
    {
        if (service == ServiceKind.Wye) nominal ??= Wye;
        var recorded = new StudyData(log) { Service = service, Nominal = nominal, NominalHertz = 50 };
        var guard = IntervalGuard.Judge(log, new GuardOptions { Service = service, Nominal = nominal }, TestContext.Current.CancellationToken);
        var mend = IntervalMender.Mend(log, guard, new MendOptions { Service = service, Nominal = nominal }, TestContext.Current.CancellationToken);
        var data = (mend.Corrections.IsEmpty ? recorded : recorded with { Log = mend.Log, Standings = mend.Standings }).WithPhaseOfSingle();
        var load = LoadStudy.Of(data, new LoadStudyOptions());
        var table = LimitTableReader.Read(LimitTableReader.ShippedFile("en-50160")!);
        var voltages = VoltageLevel.Of(data);
        var lines = LimitCheck.Judge(data, table, new LimitSite { NominalHertz = 50, LineVolts = nominal?.LineToLineVolts ?? double.NaN });
        var (from, to) = guard.Timeline.Pieces.Length > 1 ? guard.Timeline.Pieces.Select(piece => (piece.From, piece.To)).MaxBy(piece => piece.To - piece.From) : (log.From, log.To);
        var first = log.Starts.ToArray().Count(start => start < from.Ticks);
        var readings = PanelLog.Read(log, first, log.Starts.ToArray().Count(start => start < to.Ticks) - first, service, nominal);
        return new ReportSubject
        {
            Files = [new SourceFile(name, 1234, Convert.ToHexStringLower(SHA256.HashData("invented"u8)))],
            Recorded = recorded,
            Guard = guard,
            Mend = mend,
            Check = readings is null ? null : CheckDocument.Of(name, HookupCheck.Judge(readings, new CheckOptions())),
            CheckSpan = (from, to),
            Study = new StudyDocument
            {
                File = name, Service = "wye", Data = data, Load = load, Voltages = voltages, Limits = [new LimitReport(table, lines)],
                Findings = Finding.Of(StudyMetrics.Of(data, load, voltages, [], lines, []), FindingRuleReader.ReadShipped()),
                CannotShow = RecordLimits.Of(data, false),
            },
        };
    }

    /// <summary>A log without some of its rows.</summary>
    public static IntervalLog Without(IntervalLog log, Func<int, bool> isLost)
    {
        int[] kept = [.. Enumerable.Range(0, log.Count).Where(row => !isLost(row))];
        var values = Enumerable.Range(0, log.Columns.Length).Select(column => kept.Select(row => log.Values(column)[row]).ToArray()).ToArray();
        return new IntervalLog(log.Columns, [.. kept.Select(row => log.Starts.Span[row])], values, log.IntervalSeconds);
    }

    /// <summary>A log of tests/data.</summary>
    public static IntervalLog Real(string name) => LogReader.Read(new InputFile(name, File.ReadAllBytes(Path.Combine(Data(), name)))).Log;

    private static string Data([CallerFilePath] string path = "") => Path.Combine(Path.GetDirectoryName(path)!, "..", "data");
}
