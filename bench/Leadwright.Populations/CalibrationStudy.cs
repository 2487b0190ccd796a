using System.Globalization;
using Leadwright.Core.Hookups;
using Leadwright.Core.Panels;

namespace Leadwright.Populations;

/// <summary>Holds the stated probabilities against how often they came true, for each service over all kinds of load.</summary>
internal sealed class CalibrationStudy(Func<PanelPopulation, Score> run, ulong seed, Action<string> line)
{
    public void Run(IReadOnlyList<Service> services, IReadOnlyList<LoadFamily> families)
    {
        line("| service | panels | Brier, best answer | Brier, all right |");
        line("| --- | --- | --- | --- |");
        var scores = new List<(string Name, Score Score)>();
        var all = new Score();
        foreach (var service in services)
        {
            var score = new Score();
            foreach (var family in families)
                score.Add(run(new PanelPopulation { Service = service.Kind, Family = family, Seed = seed }));
            scores.Add((service.Name, score));
            all.Add(score);
        }

        scores.Add(("all", all));
        foreach (var (name, score) in scores)
            line(string.Create(CultureInfo.InvariantCulture, $"| {name} | {score.Count} | {score.Brier:0.0000} | {score.BrierOfRight:0.0000} |"));
        line("");
        line("| service | stated from | cases | mean stated | share right | points off |");
        line("| --- | --- | --- | --- | --- | --- |");
        foreach (var (name, score) in scores)
        {
            foreach (var (from, cases, mean, share) in score.Reliability())
            {
                var off = cases < 200 ? "few cases" : string.Create(CultureInfo.InvariantCulture, $"{100 * (share - mean):+0.0;−0.0}");
                line(string.Create(CultureInfo.InvariantCulture, $"| {name} | {from:0.0} | {cases} | {mean:0.000} | {share:0.000} | {off} |"));
            }
        }
    }
}
