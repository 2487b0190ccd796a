using System.Globalization;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Tests.Hookups.Others;

namespace Leadwright.Populations;

/// <summary>The check on panels by another hand: by service, by how they are read, by slip.</summary>
internal sealed class OtherStudy(int count, int seed, int show, bool onlyConfident, bool onlyRight, Action<string> line)
{
    public void Run(Service[] services, OtherMedium[] media, OtherSite[] sites)
    {
        line("| service | read as | site | cases | named right | false alarms | missed | undecided | wrong at 0.95 or more | no answer |");
        line("| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |");
        var bySlip = new SortedDictionary<(OtherMedium, string), Dictionary<ServiceKind, (int Named, int Cases)>>();
        foreach (var service in services)
        {
            foreach (var medium in media)
            {
                foreach (var site in sites)
                {
                    var scores = new OtherScore[count];
                    var population = new OtherPopulation(service.Kind, medium, site, seed);
                    Parallel.For(0, count, index => scores[index] = OtherScore.Of(population, index, onlyRight));
                    var right = scores.Count(score => score.IsRight);
                    line(string.Create(CultureInfo.InvariantCulture,
                        $"| {service.Name} | {Word(medium)} | {Word(site)} | {count} | {(double)scores.Count(score => score.IsNamed) / count:0.0000} | {scores.Count(score => score.IsFalseAlarm)} of {right} | {scores.Count(score => !score.IsRight && score.Said?.Verdict == Verdict.Correct)} of {count - right} | {scores.Count(score => score.Said?.Verdict == Verdict.Undecided)} | {scores.Count(IsConfidentlyWrong)} | {scores.Count(score => score.Said is null)} |"));
                    Show(scores);
                    if (site != OtherSite.Usual) continue;
                    foreach (var score in scores)
                    {
                        if (score.Drawn is not { } drawn) continue;
                        var slip = drawn.Slips.Length switch { 0 => "none", 1 => drawn.Slips[0], 2 => "two slips", _ => "three slips" };
                        if (!bySlip.TryGetValue((medium, slip), out var row)) bySlip[(medium, slip)] = row = [];
                        var (named, cases) = row.GetValueOrDefault(service.Kind);
                        row[service.Kind] = (named + (score.IsNamed ? 1 : 0), cases + 1);
                    }
                }
            }
        }

        line("");
        line($"| read as | slip, usual sites | {string.Join(" | ", services.Select(service => service.Name))} |");
        line($"| --- | --- |{string.Concat(services.Select(_ => " --- |"))}");
        foreach (var ((medium, slip), row) in bySlip)
            line($"| {Word(medium)} | {slip} | {string.Join(" | ", services.Select(service => row.TryGetValue(service.Kind, out var share) ? $"{share.Named} of {share.Cases}" : ""))} |");
    }

    private static bool IsConfidentlyWrong(OtherScore score) => !score.IsNamed && score.Said?.Best.Probability >= 0.95;

    private void Show(OtherScore[] scores)
    {
        var shown = 0;
        for (var index = 0; index < scores.Length && shown < show; index++)
        {
            var score = scores[index];
            if (score.Said is null) Console.WriteLine($"  case {index}: {score.Failure}");
            else if (score.IsNamed && !score.IsFalseAlarm) continue;
            else if (onlyConfident && !score.IsFalseAlarm && !IsConfidentlyWrong(score)) continue;
            else
            {
                var (drawn, said) = (score.Drawn!, score.Said);
                Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
                    $"  case {index}: truth {drawn.Rotation} {Places.Of(drawn.Truth)} ({string.Join(", ", drawn.Slips)})\n    said {said.Verdict} {said.Best.Probability:0.000} {said.Best.Rotation} {said.Best.HighLeg} {Places.Of(said.Best.Hookup)}; next {string.Join(" / ", said.Alternatives.Take(2).Select(a => $"{a.Probability:0.000} {a.Rotation} {Places.Of(a.Hookup)}"))}\n    {string.Join(" ", drawn.Readings.Channels.Select(c => $"{c.Key}={c.Value.Rms:0.##}@{c.Value.AngleDegrees:0.#}"))} steps {said.StepCount} {string.Join(",", said.Notes.Select(n => n.Kind))}\n    {string.Join(" ", said.Evidence.Select(e => $"{e.Kind}:{e.LogOdds:0.0}"))}"));
            }

            shown++;
        }
    }

    private static string Word<T>(T value) where T : struct, Enum => value.ToString()!.ToLowerInvariant();
}
