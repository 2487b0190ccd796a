using System.Globalization;
using System.Text;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Panels;
using Leadwright.Core.Panels.Weeks;
using Leadwright.Core.Tests.Hookups.Others;
using Leadwright.Core.Tests.Integrity;
using Leadwright.Populations;
using OtherSite = Leadwright.Core.Tests.Hookups.Others.OtherSite;

// Usage: [--seconds S] [--steps N] [--logged ROWS, of --seconds each] [--count N] [--seed S] [--service name] [--family name] [--faults style] [--show N] [--settle] [--calibration] [--write FILE]
//        --weeks [--count N] [--seed S] [--service name] [--interval S] [--only mishap] [--clean] [--first N] [--pick N,N,..] [--solar] [--show N] [--write FILE]: the guard over virtual weeks
//        --year: how long a year of one-minute values takes to guard
//        --mending N [the options of --weeks]: the energies of N mended weeks
//        --events [--count N] [--seed S] [--show N] [--write FILE]: types, origins and likenesses of virtual disturbances
//        --sites [--count SEEDS] [--seed S] [--load name] [--show N] | --plain [--count WEEKS] [--seed S] [--only mishap] [--show N]: the guard over sites and weeks of another make
//        --others [--count N] [--seed S] [--service name] [--medium typed|sampled|logged] [--site usual|leading|light|export] [--right] [--confident] [--show N] [--write FILE]: panels by another hand
//        --services [--count N] [--seed S] [--show N] [--part stated|wrong|open]: the tables of services stated wrongly or not at all
var count = int.Parse(Option("--count") ?? "2000", CultureInfo.InvariantCulture);
var seed = ulong.Parse(Option("--seed") ?? "1", CultureInfo.InvariantCulture);
var show = int.Parse(Option("--show") ?? "0", CultureInfo.InvariantCulture);
var seconds = double.Parse(Option("--seconds") ?? "0", CultureInfo.InvariantCulture);
var loggedRows = int.Parse(Option("--logged") ?? "0", CultureInfo.InvariantCulture);
var stepsWanted = int.Parse(Option("--steps") ?? "6", CultureInfo.InvariantCulture);
var onlyConfident = args.Contains("--confident");
var services = Option("--service") is { } name ? [Service.Named(name)!] : Service.All.ToArray();
var families = Option("--family") is { } family ? [Enum.Parse<LoadFamily>(family, true)] : seconds > 0
    ? [LoadFamily.Ordinary, LoadFamily.Motors, LoadFamily.Unbalanced, LoadFamily.Export, LoadFamily.Leading]
    : Enum.GetValues<LoadFamily>();
var styles = Option("--faults") is { } faults
    ? [Enum.Parse<FaultStyle>(faults, true)]
    : seconds > 0 ? [FaultStyle.Slips] : new[] { FaultStyle.Slips, FaultStyle.Uniform48 };
var text = new StringBuilder();
if (args.Contains("--events"))
{
    new EventStudy(seed, count, show, Line).Run();
    return Finish("events", "sites of a kind");
}

if (args.Contains("--others"))
{
    OtherMedium[] media = Option("--medium") is { } medium ? [Enum.Parse<OtherMedium>(medium, true)] : Enum.GetValues<OtherMedium>();
    OtherSite[] sites = Option("--site") is { } site ? [Enum.Parse<OtherSite>(site, true)] : Enum.GetValues<OtherSite>();
    new OtherStudy(count, (int)seed, show, onlyConfident, args.Contains("--right"), Line).Run(services, media, sites);
    return Finish("others");
}

if (args.Contains("--settle"))
{
    LoadFamily[] asked = Option("--family") is null ? [LoadFamily.Ordinary, LoadFamily.Leading, LoadFamily.Export] : families;
    new SettleStudy(count, seed, show, Line).Run(services, asked);
    return Finish("settling");
}

if (args.Contains("--calibration"))
{
    new CalibrationStudy(Run, seed, Line).Run(services, families);
    return Finish("calibration");
}

if (args.Contains("--sites"))
{
    if (args.Contains("--mending")) new PlainMendStudy((int)seed, show, Line).Sites(Option("--count") is null ? 1 : count);
    else new MirrorStudy((int)seed, show, Line).Sites(Option("--count") is null ? 1 : count, Option("--load"));
    return Finish("sites", "seeds");
}

if (args.Contains("--plain"))
{
    if (args.Contains("--mending")) new PlainMendStudy((int)seed, show, Line).Plain(count);
    else new MirrorStudy((int)seed, show, Line).Plain(count, Option("--only") is { } mishap ? Enum.Parse<PlainMishap>(mishap, true) : null);
    return Finish("plain", "weeks");
}

if (args.Contains("--year"))
{
    WeekStudy.Year(seed, Line);
    return 0;
}

if (Option("--mending") is { } mended) count = int.Parse(mended, CultureInfo.InvariantCulture);
if (args.Contains("--weeks") || args.Contains("--mending"))
{
    var weeks = new WeekPopulation
    {
        Seed = seed,
        Service = Option("--service") is { } service ? Service.Named(service)!.Kind : null,
        IntervalSeconds = int.Parse(Option("--interval") ?? "0", CultureInfo.InvariantCulture),
        Only = Option("--only") is { } only ? Enum.Parse<MishapKind>(only, true) : null,
        IsClean = args.Contains("--clean"),
    };
    if (args.Contains("--mending"))
    {
        new MendStudy(weeks, count, int.Parse(Option("--first") ?? "0", CultureInfo.InvariantCulture), show, Line).Run();
        return Finish("mending", "weeks");
    }

    int[] picked = Option("--pick") is { } numbers ? [.. numbers.Split(',').Select(number => int.Parse(number, CultureInfo.InvariantCulture))] : [];
    if (args.Contains("--solar")) picked = [.. Enumerable.Range(0, count).Where(number => weeks.Recipe(number).HasSolar)];
    new WeekStudy(weeks, count, int.Parse(Option("--first") ?? "0", CultureInfo.InvariantCulture), show, Line) { Picked = picked, DumpTo = Option("--dump") }.Run();
    if (Option("--write") is { } page) AccuracyPage.Write(page, args.Contains("--clean") ? "clean weeks" : "weeks", text.ToString(), count, seed, "weeks");
    return 0;
}

var all = new Score();
if (args.Contains("--services"))
{
    ServiceRuns.Write(count, seed, show, Option("--part"), Line);
    return 0;
}

foreach (var style in styles)
{
    Line($"### {Words(style)}");
    Line("");
    var isRecorded = seconds > 0 && loggedRows == 0;
    Line($"| service | load | cases | named right | false alarms | missed | undecided | wrong at 0.95 or more | Brier |{(isRecorded ? " named right where a current stepped |" : "")}");
    Line($"| --- | --- | --- | --- | --- | --- | --- | --- | --- |{(isRecorded ? " --- |" : "")}");
    foreach (var service in services)
    {
        foreach (var load in families)
        {
            var population = new PanelPopulation { Service = service.Kind, Family = load, Faults = style, Seed = seed };
            var score = Run(population);
            all.Add(score);
            Line(string.Create(CultureInfo.InvariantCulture,
                $"| {service.Name} | {load.ToString().ToLowerInvariant()} | {score.Count} | {(double)score.Right / score.Count:0.0000} | {score.FalseAlarms} of {score.TrulyRight} | {score.Missed} of {score.Count - score.TrulyRight} | {score.Undecided} | {score.ConfidentlyWrong} | {score.Brier:0.0000} |{(isRecorded ? $" {score.RightWithSteps} of {score.WithSteps} |" : "")}"));
        }
    }

    Line("");
}

Line("### Reliability, all of the above");
Line("");
Line("| confidence from | cases | mean confidence | share named right |");
Line("| --- | --- | --- | --- |");
foreach (var (from, cases, mean, share) in all.Reliability())
    Line(string.Create(CultureInfo.InvariantCulture, $"| {from:0.0} | {cases} | {mean:0.000} | {share:0.000} |"));
return Finish(loggedRows > 0 ? "logged" : seconds > 0 ? "recordings" : "tables");

int Finish(string name, string unit = "panels a row")
{
    if (Option("--write") is { } file) AccuracyPage.Write(file, name, text.ToString(), count, seed, unit);
    return 0;
}

Score Run(PanelPopulation population)
{
    var outcomes = new Outcome[count];
    var shown = 0;
    Parallel.For(0, count, new ParallelOptions { MaxDegreeOfParallelism = Environment.ProcessorCount }, index =>
    {
        var panel = population.Case(index);
        var readings = loggedRows > 0 ? Recorded.Logged(panel, seconds > 0 ? seconds : 1, loggedRows, stepsWanted, index) : seconds > 0 ? Recorded.Readings(panel, seconds, stepsWanted, index) : panel.Readings;
        var verdict = HookupCheck.Judge(readings, panel.Options);
        var right = Hookup.Expected(panel.Truth.Leads.Keys, panel.Truth.Clamps.Keys);
        var isRight = panel.Truth.IsRight
            || (panel.Options.ToldRotation == Rotation.Unknown
                && (IsRightElsewhere(panel, readings, right)));
        // Which way the supply turns is no lead's or clamp's place: with one voltage left, both ways name the same leads.
        var named = verdict.Service == population.Service && ((panel.Truth.Equals(verdict.Best.Hookup) && panel.HighLeg == (verdict.Best.HighLeg ?? panel.HighLeg))
            || IsAlike(verdict.Best.Rotation) || (panel.Options.ToldRotation == Rotation.Unknown && IsAlike(verdict.Best.Rotation == Rotation.Acb ? Rotation.Abc : Rotation.Acb)));
        // An answer holds its places for either rotation, and with them whatever reads the same under one of the two.
        bool IsAlike(Rotation rotation) => ReadsAlike.Check(
            readings, panel.Truth, panel.Rotation, panel.HighLeg, verdict.Best.Hookup, rotation, verdict.Best.HighLeg ?? Conductor.B);
        outcomes[index] = new Outcome(
            isRight, named, verdict.Verdict == Verdict.Faulty, verdict.Verdict == Verdict.Correct, verdict.Best.Probability,
            verdict.ProbabilityCorrect, readings.Steps is { Steps.Steps.IsEmpty: false });
        if ((!named || (isRight && verdict.Verdict == Verdict.Faulty)) && (!onlyConfident || verdict.Best.Probability >= 0.95) && Interlocked.Increment(ref shown) <= show)
        {
            Console.WriteLine($"  case {index}: truth {panel.Rotation} {Places.Of(panel.Truth)} slips {string.Join(",", panel.Slips)}\n    said {verdict.Verdict} {verdict.Best.Probability:0.000} {verdict.Best.Rotation} {Places.Of(verdict.Best.Hookup)}; next {string.Join(" / ", verdict.Alternatives.Take(2).Select(a => $"{a.Probability:0.000} {a.Rotation} {Places.Of(a.Hookup)}"))}\n    {string.Join(" ", readings.Channels.Select(c => $"{c.Key}={c.Value.Rms:0.##}@{c.Value.AngleDegrees:0.#}"))} {string.Join(",", verdict.Notes.Select(n => n.Kind))}");
        }
    });
    var score = new Score();
    foreach (var outcome in outcomes) score.Add(outcome);
    return score;
}

// A right hook-up on a supply of the other rotation, or with the high leg elsewhere.
static bool IsRightElsewhere(PanelCase panel, PanelReadings readings, Hookup right)
{
    Conductor[] places = panel.Panel.Service == ServiceKind.HighLeg ? [Conductor.A, Conductor.B, Conductor.C] : [Conductor.B];
    return places.Any(place =>
        ReadsAlike.Check(readings, panel.Truth, panel.Rotation, panel.HighLeg, right, Rotation.Abc, place)
        || ReadsAlike.Check(readings, panel.Truth, panel.Rotation, panel.HighLeg, right, Rotation.Acb, place));
}

static string Words(FaultStyle style) => style switch
{
    FaultStyle.Slips => "Slips as they happen: none, one, two or three",
    FaultStyle.Uniform48 => "Leads right, any order and direction of the clamps",
    _ => "All right",
};

void Line(string line)
{
    Console.WriteLine(line);
    text.AppendLine(line);
}

string? Option(string option)
{
    var at = Array.IndexOf(args, option);
    return at >= 0 && at + 1 < args.Length ? args[at + 1] : null;
}
