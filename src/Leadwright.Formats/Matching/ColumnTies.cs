using System.Globalization;
using Leadwright.Core.Circuits;
using Leadwright.Core.Logs;
using Leadwright.Formats.Logs;

namespace Leadwright.Formats.Matching;

/// <summary>What the numbers say of the columns: a voltage is near the nominal one, P = V·I·PF and P² + Q² ≤ S² tie columns, least ≤ mean ≤ largest.</summary>
internal sealed class ColumnTies(ColumnProposal?[] proposals, ScannedColumn[] columns, bool[] isUnitOpen, double intervalSeconds, double? nominalVolts)
{
    private const int SampledRows = 2000;

    private static readonly double[] s_usualVolts =
    [
        .. Enum.GetValues<ServiceKind>().SelectMany(service => StandardVoltages.Of(service)).SelectMany(nominal => (double[])[nominal.LineToNeutralVolts, nominal.LineToLineVolts])
            .Select(volts => Math.Round(volts)).Distinct().Order(),
    ];

    private static readonly double[] s_scales = [1000, 1, 1e6];

    /// <summary>Checks the proposals against the numbers and completes them: units that are not written, columns that names don't tell.</summary>
    public void Apply(List<ReadWarning> warnings, List<string> questions)
    {
        FindUnnamed(questions);
        ScaleVoltages();
        ScalePercents();
        foreach (var place in Enum.GetValues<LogPlace>()) TiePowers(place, warnings, questions);
        TieTotals();
        TieEnergies();
        CheckExtremes(warnings);
    }

    /// <summary>True for numbers that hardly ever fall and rise in all: the stands of a counter, which may start anew now and then.</summary>
    public static bool IsCounter(double[] numbers)
    {
        int rises = 0, falls = 0, steps = 0;
        var (last, largest, climbed) = (double.NaN, 0.0, 0.0);
        foreach (var number in numbers)
        {
            if (double.IsNaN(number)) continue;
            if (!double.IsNaN(last))
            {
                steps++;
                if (number > last) rises++;
                else if (number < last) falls++;
                largest = Math.Max(largest, number - last);
                // A counter that starts over, at its end or after an outage, has climbed all the same.
                climbed += number >= last ? number - last : 0;
            }

            last = number;
        }

        return steps >= 3 && rises > 0.05 * steps && falls <= Math.Max(0.01 * steps, steps < 100 ? 0 : 1) && (climbed > 3 * largest || steps < 10);
    }

    private int IndexOf(LogQuantity quantity, LogPlace place)
    {
        var found = Array.FindIndex(proposals, proposal => proposal is { Role: ColumnRole.Value, IsExport: false, Order: 0, Statistic: LogStatistic.Mean }
            && proposal.Quantity == quantity && proposal.Place == place);
        return found >= 0 ? found : Array.FindIndex(proposals, proposal => proposal is { Role: ColumnRole.Value, IsExport: false, Order: 0, Statistic: LogStatistic.Instant }
            && proposal.Quantity == quantity && proposal.Place == place);
    }

    private double Value(int column, int row) => columns[column].Numbers![row] * proposals[column]!.Factor;

    private IEnumerable<int> Sample()
    {
        var count = columns.First(column => column.Numbers is not null).Numbers!.Length;
        var step = Math.Max(count / SampledRows, 1);
        for (var row = 0; row < count; row += step) yield return row;
    }

    private List<double> Ratios(Func<int, double> above, Func<int, double> below)
    {
        var ratios = new List<double>();
        foreach (var row in Sample())
        {
            var (top, bottom) = (above(row), below(row));
            if (double.IsFinite(top) && bottom > 0) ratios.Add(Math.Abs(top) / bottom);
        }

        ratios.Sort();
        return ratios;
    }

    private static double At(List<double> sorted, double share) => sorted[(int)Math.Min(share * sorted.Count, sorted.Count - 1)];

    private void Note(int column, string reason, double confidence)
    {
        var proposal = proposals[column]!;
        if (proposal.IsStated) return;
        proposals[column] = proposal with { Why = $"{proposal.Why}; {reason}", Confidence = Math.Clamp(confidence, 0, 0.99) };
    }

    // Steady numbers near a usual voltage or frequency, in columns that nothing else tells.
    private void FindUnnamed(List<string> questions)
    {
        var voltages = new List<int>();
        for (var column = 0; column < columns.Length; column++)
        {
            if (proposals[column] is not { Role: ColumnRole.Value, Quantity: LogQuantity.Other, Unit: "", IsStated: false } proposal || !proposal.Why.EndsWith("what it is", StringComparison.Ordinal)) continue;
            var values = Sample().Select(row => columns[column].Numbers![row]).Where(double.IsFinite).Order().ToList();
            if (values.Count < 10) continue;
            var (low, middle, high) = (At(values, 0.02), At(values, 0.5), At(values, 0.98));
            if (low > 0 && high - low < 0.02 * middle && (Math.Abs(middle - 50) < 0.5 || Math.Abs(middle - 60) < 0.5) && high > low)
            {
                proposals[column] = proposal with
                {
                    Quantity = LogQuantity.Frequency,
                    Unit = "Hz",
                    Confidence = 0.5,
                    Why = string.Create(CultureInfo.InvariantCulture, $"its numbers stay near {middle:0.##}, as a frequency does"),
                };
            }
            else if (low > 0 && high - low < 0.2 * middle && NearestVolts(middle) is { } volts && high > low)
            {
                proposals[column] = proposal with
                {
                    Quantity = LogQuantity.Voltage,
                    Unit = "V",
                    Confidence = 0.5,
                    Why = string.Create(CultureInfo.InvariantCulture, $"its numbers stay near {volts:0} V, as a voltage does"),
                };
                voltages.Add(column);
            }
        }

        if (voltages.Count is 2 or 3)
        {
            for (var index = 0; index < voltages.Count; index++)
                proposals[voltages[index]] = proposals[voltages[index]]! with { Place = LogPlace.Phase1 + index, Confidence = 0.4, Why = proposals[voltages[index]]!.Why + "; phase by its order" };
        }

        foreach (var column in voltages) questions.Add($"Is column '{proposals[column]!.Heading}' a voltage, and of which lead?");
    }

    private double? NearestVolts(double volts)
    {
        if (nominalVolts is { } nominal)
        {
            foreach (var usual in (double[])[nominal, nominal * Math.Sqrt(3), 2 * nominal])
            {
                if (Math.Abs((volts / usual) - 1) < 0.12) return usual;
            }

            return null;
        }

        var nearest = s_usualVolts.MinBy(usual => Math.Abs((volts / usual) - 1));
        return Math.Abs((volts / nearest) - 1) < 0.1 ? nearest : null;
    }

    // A voltage without unit is in kilovolts when only so it is near a usual one.
    private void ScaleVoltages()
    {
        for (var column = 0; column < columns.Length; column++)
        {
            if (!isUnitOpen[column] || proposals[column] is not { Quantity: LogQuantity.Voltage, IsStated: false } proposal) continue;
            var values = Sample().Select(row => columns[column].Numbers![row]).Where(value => value > 0).Order().ToList();
            if (values.Count == 0) continue;
            var middle = At(values, 0.5);
            var factor = NearestVolts(middle) is not null ? 1 : NearestVolts(1000 * middle) is not null ? 1000 : 0;
            if (factor == 0) continue;
            isUnitOpen[column] = false;
            proposals[column] = proposal with { Unit = factor == 1 ? "V" : "kV", Factor = factor };
            Note(column, string.Create(CultureInfo.InvariantCulture, $"its numbers are near {NearestVolts(factor * middle):0} V"), 0.92);
        }
    }

    private void ScalePercents()
    {
        for (var column = 0; column < columns.Length; column++)
        {
            if (proposals[column] is not { Role: ColumnRole.Value, IsStated: false, Factor: 1 } proposal || proposal.Quantity is not (LogQuantity.PowerFactor or LogQuantity.DisplacementFactor)) continue;
            var most = columns[column].Numbers!.Where(double.IsFinite).Select(Math.Abs).DefaultIfEmpty(0).Max();
            if (most is <= 1.5 or > 101) continue;
            proposals[column] = proposal with { Unit = "%", Factor = 0.01 };
            Note(column, string.Create(CultureInfo.InvariantCulture, $"its numbers go to {most:0.#}: percent"), proposal.Confidence);
        }
    }

    private void TiePowers(LogPlace place, List<ReadWarning> warnings, List<string> questions)
    {
        int volts = IndexOf(LogQuantity.Voltage, place), amperes = IndexOf(LogQuantity.Current, place);
        int watts = IndexOf(LogQuantity.ActivePower, place), vars = IndexOf(LogQuantity.ReactivePower, place), apparent = IndexOf(LogQuantity.ApparentPower, place);
        var factor = IndexOf(LogQuantity.PowerFactor, place);
        if (volts >= 0 && amperes >= 0)
        {
            double Product(int row) => Value(volts, row) * Value(amperes, row);
            foreach (var power in (int[])[apparent, watts, vars])
            {
                if (power >= 0) TieToProduct(power, Product, isEqual: power == apparent, "V·I", warnings, questions, [amperes]);
            }
        }

        if (watts >= 0 && vars >= 0 && apparent >= 0)
        {
            var ratios = Ratios(row => Math.Sqrt((Value(watts, row) * Value(watts, row)) + (Value(vars, row) * Value(vars, row))), row => Value(apparent, row));
            if (ratios.Count > 0 && Math.Abs(At(ratios, 0.5) - 1) < 0.03)
            {
                foreach (var column in (int[])[watts, vars, apparent]) Note(column, "P² + Q² = S² holds", proposals[column]!.Confidence + 0.03);
            }
        }

        if (watts >= 0 && factor >= 0 && (apparent >= 0 || (volts >= 0 && amperes >= 0)))
        {
            var ratios = Ratios(row => Value(watts, row), row => Math.Abs(Value(factor, row)) * (apparent >= 0 ? Value(apparent, row) : Value(volts, row) * Value(amperes, row)));
            if (ratios.Count > 0 && Math.Abs(At(ratios, 0.5) - 1) < 0.05)
            {
                foreach (var column in (int[])[watts, factor]) Note(column, "P = S·PF holds", proposals[column]!.Confidence + 0.03);
            }
        }
    }

    // Power against volts times amperes: finds the scale where no unit is written, and confirms or doubts it where one is.
    private void TieToProduct(
        int power, Func<int, double> product, bool isEqual, string what, List<ReadWarning>? warnings, List<string>? questions, IReadOnlyList<int>? amperes = null)
    {
        var ratios = Ratios(row => Value(power, row), product);
        if (ratios.Count < 10) return;
        var (middle, high) = (At(ratios, 0.5), At(ratios, 0.95));
        var proposal = proposals[power]!;
        if (isUnitOpen[power])
        {
            foreach (var scale in s_scales)
            {
                if (scale * high > 1.35 || scale * At(ratios, 0.8) < (isEqual ? 0.7 : 0.03)) continue;
                isUnitOpen[power] = false;
                var unit = (scale switch { 1000 => "k", 1e6 => "M", _ => "" }) + LogUnit.Of(proposal.Quantity);
                proposals[power] = proposal with { Unit = unit, Factor = scale };
                Note(power, string.Create(CultureInfo.InvariantCulture, $"in {unit} it is {scale * middle:0.00} of {what}"), 0.9);
                return;
            }

            return;
        }

        if (high <= 1.35 && middle is > 0.2 and < 1.05) SettleAmperes(amperes ?? [], proposal);
        if (high <= 1.35 && (!isEqual || middle > 0.8)) Note(power, string.Create(CultureInfo.InvariantCulture, $"it is {middle:0.00} of {what}"), proposal.Confidence + 0.03);
        else if (middle > 1.5 && warnings is not null && questions is not null && !proposal.IsStated)
        {
            Note(power, string.Create(CultureInfo.InvariantCulture, $"but it is {middle:0.##} times {what}"), 0.5 * proposal.Confidence);
            warnings.Add(new ReadWarning(string.Create(CultureInfo.InvariantCulture,
                $"Column '{proposal.Heading}' is mostly {middle:0.##} times volts by amperes of its phase, which a power can't be: a unit or a ratio may be wrong.")));
            questions.Add($"Is the unit of column '{proposal.Heading}' right, and the ratio of its clamp?");
        }
    }

    // Volts and a power whose unit is written leave amperes no other unit.
    private void SettleAmperes(IReadOnlyList<int> amperes, ColumnProposal power)
    {
        foreach (var column in amperes.Where(column => isUnitOpen[column]))
        {
            isUnitOpen[column] = false;
            proposals[column] = proposals[column]! with { Unit = "A" };
            Note(column, $"in A it fits '{power.Heading}'", 0.9);
        }
    }

    private void TieTotals()
    {
        foreach (var quantity in (LogQuantity[])[LogQuantity.ApparentPower, LogQuantity.ActivePower, LogQuantity.ReactivePower])
        {
            var total = IndexOf(quantity, LogPlace.Whole);
            if (total < 0) continue;
            var parts = ((LogPlace[])[LogPlace.Phase1, LogPlace.Phase2, LogPlace.Phase3]).Select(place => IndexOf(quantity, place)).Where(column => column >= 0).ToList();
            if (parts.Count >= 2 && !parts.Exists(part => isUnitOpen[part]))
            {
                TieToProduct(total, row => Math.Abs(parts.Sum(part => Value(part, row))), isEqual: true, "the sum of the phases", null, null);
                continue;
            }

            var pairs = ((LogPlace[])[LogPlace.Phase1, LogPlace.Phase2, LogPlace.Phase3])
                .Select(place => (Volts: IndexOf(LogQuantity.Voltage, place), Amperes: IndexOf(LogQuantity.Current, place))).Where(pair => pair is { Volts: >= 0, Amperes: >= 0 }).ToList();
            if (pairs.Count < 2) continue;
            TieToProduct(
                total, row => pairs.Sum(pair => Value(pair.Volts, row) * Value(pair.Amperes, row)), isEqual: false, "the phases' V·I", null, null, [.. pairs.Select(pair => pair.Amperes)]);
        }
    }

    // Energy of an interval against power over it.
    private void TieEnergies()
    {
        foreach (var (energy, power) in ((LogQuantity, LogQuantity)[])[(LogQuantity.ActiveEnergy, LogQuantity.ActivePower), (LogQuantity.ReactiveEnergy, LogQuantity.ReactivePower)])
        {
            foreach (var place in Enum.GetValues<LogPlace>())
            {
                var amount = Array.FindIndex(proposals, proposal => proposal is { Role: ColumnRole.Value, Statistic: LogStatistic.Amount, IsExport: false } && proposal.Quantity == energy && proposal.Place == place);
                var rate = IndexOf(power, place);
                if (amount >= 0 && rate >= 0 && !isUnitOpen[rate])
                    TieToProduct(amount, row => Math.Abs(Value(rate, row)) * intervalSeconds / 3600, isEqual: true, "power times interval", null, null);
            }
        }
    }

    private void CheckExtremes(List<ReadWarning> warnings)
    {
        for (var column = 0; column < columns.Length; column++)
        {
            if (proposals[column] is not { Role: ColumnRole.Value, Quantity: not LogQuantity.Other } extreme || extreme.Statistic is not (LogStatistic.Minimum or LogStatistic.Maximum)) continue;
            var mean = IndexOf(extreme.Quantity, extreme.Place);
            if (mean < 0) continue;
            if (isUnitOpen[column] && !isUnitOpen[mean])
            {
                isUnitOpen[column] = false;
                proposals[column] = extreme with { Unit = proposals[mean]!.Unit, Factor = proposals[mean]!.Factor };
            }

            int wrong = 0, all = 0;
            foreach (var row in Sample())
            {
                var (value, middle) = (Value(column, row), Value(mean, row));
                if (double.IsNaN(value) || double.IsNaN(middle)) continue;
                all++;
                var off = extreme.Statistic == LogStatistic.Minimum ? value - middle : middle - value;
                if (off > 1e-6 * Math.Abs(middle)) wrong++;
            }

            var word = extreme.Statistic == LogStatistic.Minimum ? "below" : "above";
            if (all == 0) continue;
            if (wrong <= 0.01 * all) Note(column, $"it stays {word} the mean", proposals[column]!.Confidence + 0.02);
            else
            {
                Note(column, $"but it is not {word} the mean in {wrong} of {all} rows looked at", 0.5 * proposals[column]!.Confidence);
                warnings.Add(new ReadWarning($"Column '{extreme.Heading}' should stay {word} column '{proposals[mean]!.Heading}', and does not in {wrong} of {all} rows looked at."));
            }
        }
    }
}
