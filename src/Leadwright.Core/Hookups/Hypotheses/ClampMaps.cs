using Leadwright.Core.Hookups.Priors;

namespace Leadwright.Core.Hookups.Hypotheses;

/// <summary>Every clamp on any conductor or none, either direction, at most two ratios off, with the prior of each.</summary>
internal static class ClampMaps
{
    /// <summary>Only on top of slips at least this likely two ratios are tried at once: none, one clamp turned, all turned.</summary>
    private const double UsualSlip = 0.015;

    /// <summary>The arrangements, likeliest first.</summary>
    public static List<ClampMap> Enumerate(Service service, IReadOnlyList<Clamp> clamps, bool mayExport, SlipRates slips)
    {
        var count = clamps.Count;
        int[] conductors = [.. service.Conductors.Select(conductor => (int)conductor)];
        var choices = (conductors.Length * 2) + 1;
        var arrangements = (int)Math.Pow(choices, count);
        var ordered = OrderedCount(clamps, conductors.Count(Place.IsLine));
        var allReversed = mayExport ? slips.AllClampsReversedWithGeneration : slips.AllClampsReversed;
        (double Factor, double Rate)[] ratios =
        [
            (10, slips.RatioOffByTen), (0.1, slips.RatioOffByTen), (5, slips.RatioOffByFive), (0.2, slips.RatioOffByFive),
            (2, slips.RatioOffByTwo), (0.5, slips.RatioOffByTwo),
        ];
        var ratioRight = Math.Pow(1 - ratios.Sum(ratio => ratio.Rate), count);
        var maps = new List<ClampMap>(arrangements * 2);
        var on = new int[count];
        var reversed = new bool[count];
        for (var number = 0; number < arrangements; number++)
        {
            var rest = number;
            for (var position = 0; position < count; position++)
            {
                var choice = rest % choices;
                rest /= choices;
                on[position] = choice == choices - 1 ? Place.Air : conductors[choice / 2];
                reversed[position] = choice != choices - 1 && choice % 2 == 1;
            }

            var places = PlaceProbability(on, clamps, slips);
            var directions = DirectionProbability(on, reversed, slips.ClampReversed, allReversed);
            var prior = ((1 - slips.ClampMuddle - slips.ClampChaos) * places * directions)
                + (IsOrdered(on, clamps) ? slips.ClampMuddle / ordered : 0)
                + (slips.ClampChaos / arrangements);
            maps.Add(new ClampMap([.. on], [.. reversed], -1, 1, Math.Log(prior * ratioRight)));

            // A wrong ratio on top of a chaos of clamps is too rare to be worth its time.
            var slipPrior = places * directions;
            if (slipPrior < 2e-5) continue;
            for (var position = 0; position < count; position++)
            {
                if (on[position] == Place.Air) continue;
                foreach (var (factor, rate) in ratios)
                    maps.Add(new ClampMap([.. on], [.. reversed], position, factor, Math.Log(slipPrior * rate)));
            }

            if (slipPrior >= UsualSlip) AddTwoRatios(on, reversed, slipPrior, ratios, maps);
        }

        maps.Sort((left, right) => right.LogPrior.CompareTo(left.LogPrior));
        return maps;
    }

    /// <summary>Two clamps with a wrong ratio each, on top of no slip or of a usual one.</summary>
    /// <remarks>Without them a recording of two wrong ratios is explained by whatever else comes near, and for sure: nothing else comes nearer.</remarks>
    private static void AddTwoRatios(int[] on, bool[] reversed, double slipPrior, (double Factor, double Rate)[] ratios, List<ClampMap> maps)
    {
        for (var first = 0; first < on.Length; first++)
        {
            for (var second = first + 1; second < on.Length; second++)
            {
                if (on[first] == Place.Air || on[second] == Place.Air) continue;
                foreach (var (one, oneRate) in ratios)
                {
                    foreach (var (other, otherRate) in ratios)
                    {
                        maps.Add(new ClampMap([.. on], [.. reversed], first, one, Math.Log(slipPrior * oneRate * otherRate))
                        {
                            SecondOffScale = second,
                            SecondScale = other,
                        });
                    }
                }
            }
        }
    }

    private static double DirectionProbability(int[] on, bool[] reversed, double each, double all)
    {
        double probability = 1;
        var everyOne = true;
        var closed = 0;
        for (var position = 0; position < on.Length; position++)
        {
            if (on[position] == Place.Air) continue;
            closed++;
            probability *= reversed[position] ? each : 1 - each;
            everyOne &= reversed[position];
        }

        if (closed == 0) return 1;
        return ((1 - all) * probability) + (everyOne ? all : 0);
    }

    private static double PlaceProbability(int[] on, IReadOnlyList<Clamp> clamps, SlipRates slips)
    {
        // The same ring logic as for leads: clamps by home conductor.
        Span<int> byHome = stackalloc int[4];
        byHome.Fill(-1);
        for (var position = 0; position < on.Length; position++) byHome[(int)clamps[position]] = on[position];
        var homes = byHome.ToArray();
        double probability = 1;
        var misplaced = 0;
        for (var home = 0; home < 4; home++)
        {
            if (homes[home] < 0) continue;
            if (homes[home] == Place.Air) probability *= slips.ClampOpen;
            else if (homes[home] != home) misplaced |= 1 << home;
            else probability *= 1 - slips.ClampOpen;
        }

        for (var home = 0; home < 4; home++)
        {
            if ((misplaced & (1 << home)) == 0) continue;
            var cycle = LeadMaps.CycleFrom(homes, home);
            if (cycle == 0)
            {
                probability *= home == Place.N || homes[home] == Place.N ? slips.ClampOnNeutral : slips.ClampMisplaced;
                misplaced &= ~(1 << home);
                continue;
            }

            misplaced &= ~cycle;
            var withNeutral = (cycle & (1 << Place.N)) != 0;
            probability *= System.Numerics.BitOperations.PopCount((uint)cycle) switch
            {
                2 => withNeutral ? slips.ClampOnNeutral : slips.ClampPairExchanged,
                3 => withNeutral ? slips.ClampOnNeutral * slips.ClampPairExchanged : slips.ClampsRotated,
                _ => slips.ClampOnNeutral * slips.ClampsRotated,
            };
        }

        return Math.Max(probability, AreAllOnOneLine(on, clamps) ? slips.AllClampsOnOneConductor : 0);
    }

    private static bool AreAllOnOneLine(int[] on, IReadOnlyList<Clamp> clamps)
    {
        for (var position = 0; position < on.Length; position++)
        {
            var isHome = clamps[position] == Clamp.IN && on[position] == Place.N;
            if (!isHome && (!Place.IsLine(on[position]) || on[position] != on[0])) return false;
        }

        return on.Length > 2;
    }

    /// <summary>True when the line clamps sit on different lines and the neutral clamp on the neutral.</summary>
    private static bool IsOrdered(int[] on, IReadOnlyList<Clamp> clamps)
    {
        var seen = 0;
        for (var position = 0; position < on.Length; position++)
        {
            var place = on[position];
            if (place == Place.Air || (seen & (1 << place)) != 0) return false;
            if ((place == Place.N) != (clamps[position] == Clamp.IN)) return false;
            seen |= 1 << place;
        }

        return true;
    }

    private static double OrderedCount(IReadOnlyList<Clamp> clamps, int lines)
    {
        double count = 1;
        var free = lines;
        foreach (var clamp in clamps)
        {
            if (clamp != Clamp.IN) count *= Math.Max(free--, 1);
            count *= 2;
        }

        return count;
    }
}
