using System.Globalization;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Settling;
using Leadwright.Core.Panels;

namespace Leadwright.Populations;

/// <summary>Asks what the check asks, answers it from the truth, and counts the panels that are decided then.</summary>
internal sealed class SettleStudy(int count, ulong seed, int show, Action<string> line)
{
    private const int Rounds = 2;
    private int _shown;

    public void Run(IReadOnlyList<Service> services, IReadOnlyList<LoadFamily> families)
    {
        line("| service | load | undecided | right after one answer | wrong | right after two answers | wrong | no question | asked first |");
        line("| --- | --- | --- | --- | --- | --- | --- | --- | --- |");
        var total = new Tally();
        foreach (var service in services)
        {
            foreach (var family in families)
            {
                var tally = Run(new PanelPopulation { Service = service.Kind, Family = family, Seed = seed });
                total.Add(tally);
                line($"| {service.Name} | {family.ToString().ToLowerInvariant()} | {tally.Text()} |");
            }
        }

        line($"| all | | {total.Text()} |");
    }

    private Tally Run(PanelPopulation population)
    {
        var tally = new Tally();
        Parallel.For(0, count, new ParallelOptions { MaxDegreeOfParallelism = Environment.ProcessorCount }, index =>
        {
            var panel = population.Case(index);
            var options = panel.Options;
            var verdict = HookupCheck.Judge(panel.Readings, options);
            if (verdict.Verdict != Verdict.Undecided) return;
            var standings = new int[Rounds];
            SettlingKind? first = null;
            for (var round = 0; round < Rounds; round++)
            {
                if (verdict.Settle is { } settle && TruthAnswers.Of(panel, settle) is { } told)
                {
                    first ??= settle.Action.Kind;
                    options = options with { Told = [.. options.Told, told] };
                    verdict = HookupCheck.Judge(panel.Readings, options);
                }

                standings[round] = StandingOf(panel, verdict);
            }

            lock (tally)
            {
                tally.Add(standings, first);
                if (standings[^1] > 0 || ++_shown > show) return;
                Console.WriteLine($"  case {index}: truth {panel.Rotation} {Places.Of(panel.Truth)} told {string.Join(" ", options.Told)}\n    "
                    + $"said {verdict.Verdict} {verdict.Best.Probability:0.000} right {verdict.ProbabilityCorrect:0.000} {verdict.Best.Rotation} {Places.Of(verdict.Best.Hookup)}; "
                    + $"next {string.Join(" / ", verdict.Alternatives.Take(2).Select(other => $"{other.Probability:0.000} {Places.Of(other.Hookup)}"))} "
                    + $"ask {verdict.Settle?.Action.Id} {string.Join(",", verdict.Notes.Select(note => note.Kind))}");
            }
        });
        return tally;
    }

    /// <summary>0 undecided, 1 decided right, −1 decided wrong.</summary>
    private static int StandingOf(PanelCase panel, HookupVerdict verdict)
    {
        if (verdict.Verdict == Verdict.Undecided) return 0;
        var named = ReadsAlike.Check(panel.Readings, panel.Truth, panel.Rotation, verdict.Best.Hookup, verdict.Best.Rotation);
        return named ? 1 : -1;
    }

    private sealed class Tally
    {
        private readonly int[] _right = new int[Rounds];
        private readonly int[] _wrong = new int[Rounds];
        private readonly SortedDictionary<SettlingKind, int> _asked = [];
        private int _undecided;
        private int _unasked;

        public void Add(int[] standings, SettlingKind? first)
        {
            _undecided++;
            if (first is { } kind) _asked[kind] = _asked.GetValueOrDefault(kind) + 1;
            else _unasked++;
            for (var round = 0; round < Rounds; round++)
            {
                if (standings[round] > 0) _right[round]++;
                if (standings[round] < 0) _wrong[round]++;
            }
        }

        public void Add(Tally other)
        {
            _undecided += other._undecided;
            _unasked += other._unasked;
            foreach (var (kind, asked) in other._asked) _asked[kind] = _asked.GetValueOrDefault(kind) + asked;
            for (var round = 0; round < Rounds; round++)
            {
                _right[round] += other._right[round];
                _wrong[round] += other._wrong[round];
            }
        }

        public string Text()
        {
            var asked = string.Join(", ", _asked.OrderByDescending(entry => entry.Value).Take(3).Select(entry =>
                string.Create(CultureInfo.InvariantCulture, $"{entry.Key.ToString().ToLowerInvariant()} {entry.Value}")));
            return string.Create(CultureInfo.InvariantCulture,
                $"{_undecided} | {Share(_right[0])} | {Share(_wrong[0])} | {Share(_right[1])} | {Share(_wrong[1])} | {_unasked} | {asked}");
        }

        private string Share(int part) =>
            _undecided == 0 ? "" : string.Create(CultureInfo.InvariantCulture, $"{(double)part / _undecided:0.00}");
    }
}
