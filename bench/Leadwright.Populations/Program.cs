using System.Globalization;
using System.Text;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Panels;
using Leadwright.Populations;

// Usage: [--seconds S] [--steps N] [--count N] [--seed S] [--service name] [--family name] [--faults style] [--show N] [--write FILE]
var count = int.Parse(Option("--count") ?? "2000", CultureInfo.InvariantCulture);
var seed = ulong.Parse(Option("--seed") ?? "1", CultureInfo.InvariantCulture);
var show = int.Parse(Option("--show") ?? "0", CultureInfo.InvariantCulture);
var seconds = double.Parse(Option("--seconds") ?? "0", CultureInfo.InvariantCulture);
var stepsWanted = int.Parse(Option("--steps") ?? "6", CultureInfo.InvariantCulture);
var onlyConfident = args.Contains("--confident");
var services = Option("--service") is { } name ? [Service.Named(name)!] : Service.All.ToArray();
var families = Option("--family") is { } family ? [Enum.Parse<LoadFamily>(family, true)] : Enum.GetValues<LoadFamily>();
var styles = Option("--faults") is { } faults
    ? [Enum.Parse<FaultStyle>(faults, true)]
    : new[] { FaultStyle.Slips, FaultStyle.Uniform48 };
var text = new StringBuilder();
var all = new Score();
long judged = 0;
if (Option("--case") is { } only)
{
    var panel = new PanelPopulation { Service = services[0].Kind, Family = families[0], Faults = styles[0], Seed = seed }.Case(int.Parse(only, CultureInfo.InvariantCulture));
    var readings = Recorded.Readings(panel, seconds, stepsWanted, int.Parse(only, CultureInfo.InvariantCulture));
    Console.WriteLine($"Z {panel.Panel.Source.Line} Zn {panel.Panel.Source.Neutral} rating {panel.Instrument.ClampRatingAmperes} truth {Place(panel.Truth)} common {readings.Steps!.Steps.CommonWandering:0.0e0} own {readings.Steps!.Steps.OwnWandering:0.0e0} supply {readings.Steps!.Steps.SupplyChanges}");
    foreach (var step in readings.Steps!.Steps.Steps)
    {
        Console.WriteLine($"{step.Seconds:0.000} {string.Join(" ", step.Changes.Select((c, i) => $"{readings.Steps.Channels[i]}:{c.Magnitude:0.000}@{c.AngleDegrees - step.Before[i].AngleDegrees:0}"))} | {string.Join(" ", step.Before.Select(c => $"{c.Magnitude:0.0}@{c.AngleDegrees:0}"))}");
    }
    var (line, neutral) = (panel.Panel.Source.Line.AtOrder(1), panel.Panel.Source.Neutral.AtOrder(1));
    foreach (var step in readings.Steps!.Steps.Steps)
    {
        var j = new Phasor[3];
        var at = readings.Steps.Channels;
        foreach (var (clamp, place) in panel.Truth.Clamps)
        {
            if (place.On is { } on && on < Conductor.N) j[(int)on] = (place.Reversed ? -1 : 1) / place.Scale * step.Changes[at.IndexOf(Channel.I1 + (int)clamp)];
        }

        var sum = j[0] + j[1] + j[2];
        Console.WriteLine($"{step.Seconds:0.000} " + string.Join(" ", panel.Truth.Leads.Where(l => l.Key != Lead.VN && l.Value is not null).Select(l =>
        {
            var k = at.IndexOf(Channel.V1 + (int)l.Key);
            var own = l.Value == Conductor.N ? Phasor.Zero : (line * j[(int)l.Value!]) + (neutral * sum);
            return $"{(step.Changes[k] + own).Magnitude / step.Before[0].Magnitude:0.0e0}@{(step.Changes[k] + own).AngleDegrees - step.Before[k].AngleDegrees:0} of {own.Magnitude / step.Before[0].Magnitude:0.0e0}";
        })));
    }

    HookupCheck.Judge(readings, panel.Options);
    return 0;
}

foreach (var style in styles)
{
    Line($"### {Words(style)}");
    Line("");
    Line("| service | load | cases | named right | false alarms | missed | undecided | wrong at 0.95 or more | Brier |");
    Line("| --- | --- | --- | --- | --- | --- | --- | --- | --- |");
    foreach (var service in services)
    {
        foreach (var load in families)
        {
            var population = new PanelPopulation { Service = service.Kind, Family = load, Faults = style, Seed = seed };
            var score = Run(population);
            all.Add(score);
            Line(string.Create(CultureInfo.InvariantCulture,
                $"| {service.Name} | {load.ToString().ToLowerInvariant()} | {score.Count} | {(double)score.Right / score.Count:0.0000} | {score.FalseAlarms} of {score.TrulyRight} | {score.Missed} of {score.Count - score.TrulyRight} | {score.Undecided} | {score.ConfidentlyWrong} | {score.Brier:0.0000} |"));
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
Console.Error.WriteLine($"mean time of a verdict: {judged * 1000.0 / System.Diagnostics.Stopwatch.Frequency / Math.Max(1, all.Count):0.0} ms on the clock");
if (Option("--write") is { } file) AccuracyPage.Write(file, text.ToString(), count, seed);
return 0;

Score Run(PanelPopulation population)
{
    var outcomes = new Outcome[count];
    var shown = 0;
    Parallel.For(0, count, new ParallelOptions { MaxDegreeOfParallelism = Environment.ProcessorCount }, index =>
    {
        var panel = population.Case(index);
        var readings = seconds > 0 ? Recorded.Readings(panel, seconds, stepsWanted, index) : panel.Readings;
        var watch = System.Diagnostics.Stopwatch.StartNew();
        var verdict = HookupCheck.Judge(readings, panel.Options);
        Interlocked.Add(ref judged, watch.ElapsedTicks);
        var right = Hookup.Expected(panel.Truth.Leads.Keys, panel.Truth.Clamps.Keys);
        var isRight = panel.Truth.IsRight
            || (panel.Options.ToldRotation == Rotation.Unknown
                && (ReadsAlike.Check(readings, panel.Truth, panel.Rotation, right, Rotation.Abc)
                    || ReadsAlike.Check(readings, panel.Truth, panel.Rotation, right, Rotation.Acb)));
        var named = ReadsAlike.Check(readings, panel.Truth, panel.Rotation, verdict.Best.Hookup, verdict.Best.Rotation);
        outcomes[index] = new Outcome(
            isRight, named, verdict.Verdict == Verdict.Faulty, verdict.Verdict == Verdict.Correct, verdict.Best.Probability);
        if ((!named || (isRight && verdict.Verdict == Verdict.Faulty)) && (!onlyConfident || verdict.Best.Probability >= 0.95) && Interlocked.Increment(ref shown) <= show)
        {
            Console.WriteLine($"  case {index}: truth {panel.Rotation} {Place(panel.Truth)} slips {string.Join(",", panel.Slips)}\n    said {verdict.Verdict} {verdict.Best.Probability:0.000} {verdict.Best.Rotation} {Place(verdict.Best.Hookup)}; next {string.Join(" / ", verdict.Alternatives.Take(2).Select(a => $"{a.Probability:0.000} {a.Rotation} {Place(a.Hookup)}"))}\n    {string.Join(" ", readings.Channels.Select(c => $"{c.Key}={c.Value.Rms:0.##}@{c.Value.AngleDegrees:0.#}"))} {string.Join(",", verdict.Notes.Select(n => n.Kind))} steps {readings.Steps?.Steps.Steps.Length} own {readings.Steps?.Steps.OwnWandering:0.0e0} {string.Join(" ", verdict.Evidence.Select(e => $"{e.Kind} {e.LogOdds:0.0}"))}");
        }
    });
    var score = new Score();
    foreach (var outcome in outcomes) score.Add(outcome);
    return score;
}

static string Place(Hookup hookup) =>
    string.Join(" ", hookup.Leads.Select(lead => $"{lead.Key}:{lead.Value?.ToString() ?? "air"}"))
    + " " + string.Join(" ", hookup.Clamps.Select(clamp =>
        $"{clamp.Key}:{(clamp.Value.Reversed ? "-" : "")}{clamp.Value.On?.ToString() ?? "air"}{(clamp.Value.Scale == 1 ? "" : "x" + clamp.Value.Scale)}"));

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
