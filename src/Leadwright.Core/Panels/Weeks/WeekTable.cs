using Leadwright.Core.Circuits;
using Leadwright.Core.Logs;

namespace Leadwright.Core.Panels.Weeks;

/// <summary>The columns that the recorder of a virtual week writes, rounded as its file has them.</summary>
internal sealed class WeekTable
{
    private readonly WeekRecipe _recipe;
    private readonly List<LogColumn> _columns = [];
    private readonly List<Func<double[], double>> _formulas = [];
    private readonly List<List<double>> _values = [];
    private readonly double _hours;
    private double _counter;

    public WeekTable(WeekRecipe recipe, double ratingAmperes)
    {
        _recipe = recipe;
        _hours = recipe.IntervalSeconds / 3600.0;
        var isThreeWire = recipe.Service is ServiceKind.Delta or ServiceKind.DeltaTwoClamp;
        var isTwoElement = recipe.Service == ServiceKind.DeltaTwoClamp;
        var lines = SiteLoads.LinesOf(recipe.Service);
        var wattStep = ratingAmperes > 150 ? 10.0 : 1.0;
        var ampereStep = ratingAmperes > 150 ? 0.1 : 0.01;
        var hasPhases = recipe.Columns != WeekColumns.Totals;
        var hasVolts = recipe.Columns is not (WeekColumns.Totals or WeekColumns.Watts);
        var hasWatts = recipe.Columns is not (WeekColumns.Totals or WeekColumns.VoltsAmperes);
        var hasVars = recipe.Columns is WeekColumns.Everything or WeekColumns.VoltsAmperesWattsVars;
        if (hasVolts)
        {
            for (var index = 0; index < lines; index++)
            {
                var number = index;
                Add($"V{(isThreeWire ? $"{index + 1}{((index + 1) % 3) + 1}" : $"{index + 1}")}", LogQuantity.Voltage, isThreeWire ? LogPlace.Pair12 + index : LogPlace.Phase1 + index, row => Rounding.ToStep(row[number], 0.1));
            }

            for (var index = 0; index < lines; index++)
            {
                var number = index;
                if (!isTwoElement || index != 1) Add($"I{index + 1}", LogQuantity.Current, LogPlace.Phase1 + index, row => Rounding.ToStep(row[3 + number], ampereStep));
            }

            if (recipe.HasNeutralClamp && !isThreeWire) Add("IN", LogQuantity.Current, LogPlace.Neutral, row => Rounding.ToStep(row[6], ampereStep));
        }

        for (var index = 0; hasPhases && hasWatts && index < lines; index++)
        {
            if (isTwoElement && index == 1) continue;
            var number = index;
            var place = LogPlace.Phase1 + index;
            Add($"P{index + 1}", LogQuantity.ActivePower, place, row => Rounding.ToStep(row[7 + number], wattStep));
            if (hasVars) Add($"Q{index + 1}", LogQuantity.ReactivePower, place, row => Rounding.ToStep(row[10 + number], wattStep));
            if (recipe.Columns != WeekColumns.Everything) continue;
            var element = isTwoElement && index == 2 ? 1 : index;
            var share = isThreeWire && !isTwoElement ? 1 / Math.Sqrt(3) : 1;
            Add($"S{index + 1}", LogQuantity.ApparentPower, place, row => Rounding.ToStep(row[element] * share * row[3 + number], wattStep));
            Add($"PF{index + 1}", LogQuantity.PowerFactor, place, row => Factor(row[7 + number], row[element] * share * row[3 + number]));
        }

        if (recipe.Columns is WeekColumns.Totals or WeekColumns.Everything)
        {
            Add("P", LogQuantity.ActivePower, LogPlace.Whole, row => Rounding.ToStep(Total(row, 7), wattStep));
            Add("Q", LogQuantity.ReactivePower, LogPlace.Whole, row => Rounding.ToStep(Total(row, 10), wattStep));
            Add("Energy", LogQuantity.ActiveEnergy, LogPlace.Whole, row => Rounding.ToStep(_counter += Total(row, 7) * _hours, 1), LogStatistic.Counter);
        }

        if (recipe.Columns == WeekColumns.Everything) Add("f", LogQuantity.Frequency, LogPlace.Whole, row => row[0] + row[1] + row[2] > 1 ? Rounding.ToStep(row[13], 0.001) : 0);
        double Total(double[] row, int first) => row[first] + (lines > 1 && !isTwoElement ? row[first + 1] : 0) + (lines > 2 ? row[first + 2] : 0);
    }

    /// <summary>The counters start again from nothing.</summary>
    public void RestartCounter() => _counter = 0;

    public void Add(double[] row)
    {
        for (var index = 0; index < _columns.Count; index++) _values[index].Add(_formulas[index](row));
    }

    public IntervalLog ToLog(long[] starts) => new(
        [.. _columns], starts, [.. _values.Select(values => values.ToArray())], _recipe.IntervalSeconds);

    private void Add(string name, LogQuantity quantity, LogPlace place, Func<double[], double> formula, LogStatistic statistic = LogStatistic.Mean)
    {
        _columns.Add(new LogColumn(name, quantity, place, statistic));
        _formulas.Add(formula);
        _values.Add([]);
    }

    private static double Factor(double watts, double voltAmperes) =>
        voltAmperes > 0 ? Math.Round(Math.Clamp(watts / voltAmperes, -1, 1), 3) : 0;
}
