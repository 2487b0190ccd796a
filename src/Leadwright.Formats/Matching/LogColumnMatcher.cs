using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Core.Logs;
using Leadwright.Formats.Logs;
using Leadwright.Formats.Logs.Layout;
using Leadwright.Formats.Text;

namespace Leadwright.Formats.Matching;

/// <summary>Proposes what each column of a log holds: from its name, its unit and its numbers.</summary>
internal sealed class LogColumnMatcher
{
    private const int MostNamed = 8;

    private readonly string _source;
    private readonly TableLayout _layout;
    private readonly ScannedColumn[] _columns;
    private readonly List<ReadWarning> _warnings;
    private readonly List<string> _questions;
    private readonly ColumnProposal?[] _proposals;
    private readonly bool[] _isUnitOpen;

    private LogColumnMatcher(string source, TableLayout layout, ScannedColumn[] columns, List<ReadWarning> warnings, List<string> questions)
    {
        (_source, _layout, _columns, _warnings, _questions) = (source, layout, columns, warnings, questions);
        _proposals = new ColumnProposal?[columns.Length];
        _isUnitOpen = new bool[columns.Length];
    }

    /// <summary>Proposes for every column of a table.</summary>
    /// <param name="source">Display name.</param>
    /// <param name="layout">The layout.</param>
    /// <param name="columns">The columns as scanned.</param>
    /// <param name="stated">What a person says, the later ones winning.</param>
    /// <param name="options">What is known of nominal voltage and service.</param>
    /// <param name="intervalSeconds">Length of an interval.</param>
    /// <param name="warnings">Receives what had to be assumed.</param>
    /// <param name="questions">Receives what only a person can know.</param>
    /// <exception cref="FormatReadException">A statement fits no column.</exception>
    public static ImmutableArray<ColumnProposal> Match(
        string source, TableLayout layout, ScannedColumn[] columns, IEnumerable<ColumnStatement> stated, LogReadOptions options, double intervalSeconds,
        List<ReadWarning> warnings, List<string> questions)
    {
        var matcher = new LogColumnMatcher(source, layout, columns, warnings, questions);
        foreach (var statement in stated) matcher.Take(statement);
        matcher.ProposeByName();
        var ties = new ColumnTies(matcher._proposals, columns, matcher._isUnitOpen, intervalSeconds, options.NominalVolts);
        ties.Apply(warnings, questions);
        FourthCurrent.Apply(matcher._proposals, columns, layout.Headings, warnings, questions);
        matcher.TellOpenUnits();
        matcher.PartDoubles();
        if (options.Service is { } service) new LineVoltages(matcher._proposals, columns, service, options.NominalVolts, warnings).Apply();
        return [.. matcher._proposals.Select(proposal => proposal!)];
    }

    private void Take(ColumnStatement statement)
    {
        var index = Array.FindIndex(_layout.Headings, heading => string.Equals(heading.Text, statement.Column, StringComparison.OrdinalIgnoreCase));
        if (index < 0 && int.TryParse(statement.Column, NumberStyles.None, CultureInfo.InvariantCulture, out var number) && number >= 1 && number <= _columns.Length)
            index = number - 1;
        if (index < 0)
        {
            throw new FormatReadException(
                _source, $"a column '{statement.Column}'", "none of that heading or number",
                $"The table holds: {string.Join(", ", _layout.Headings.Take(60).Select((heading, at) => $"{at + 1} '{heading.Text}'"))}.");
        }

        if (_layout.Time.Holds(index) || !_columns[index].HasValues) return;
        var heading = _layout.Headings[index];
        var written = statement.Unit.Length > 0 ? statement.Unit : heading.Unit;
        var unit = UnitText.Parse(written);
        if (!statement.IsLeftOut && !Goes(unit, statement.Quantity))
        {
            var needed = LogUnit.Of(statement.Quantity);
            if (statement.Unit.Length > 0)
            {
                throw new FormatReadException(
                    _source, $"column '{heading.Text}' in {(needed.Length > 0 ? needed : "a plain number")}, or in a multiple of it", $"'{statement.Unit}'", "Correct what is said of the column: its quantity or its unit.");
            }

            _warnings.Add(new ReadWarning($"Column '{heading.Text}' names a unit of another quantity than it is stated to hold; its numbers are taken {(needed.Length > 0 ? $"as {needed}" : "as they are")}. State the unit too."));
            (written, unit) = (needed, UnitText.Parse(needed));
        }

        // What is kept under its own name is kept in its own unit.
        var factor = statement.Quantity != LogQuantity.Other && unit.IsKnown && _columns[index].CellUnit.Length == 0 ? unit.Factor * PercentFactor(statement.Quantity, unit) : 1;
        _proposals[index] = new ColumnProposal(
            index, heading.Text, statement.IsLeftOut ? ColumnRole.LeftOut : ColumnRole.Value, statement.Quantity, statement.Place, statement.Statistic, written, factor, 1, "as stated")
        {
            IsExport = statement.IsExport, Order = statement.Order, IsStated = true,
        };
    }

    private void ProposeByName()
    {
        var naming = LogColumnName.Naming.Of(_layout.Headings.Select(heading => heading.Name));
        for (var index = 0; index < _columns.Length; index++)
        {
            if (_proposals[index] is not null) continue;
            var heading = _layout.Headings[index];
            if (_layout.Time.Holds(index)) _proposals[index] = Plain(index, ColumnRole.Time, 1, "it states times");
            else if (_columns[index].Standings is not null) _proposals[index] = Plain(index, ColumnRole.Standing, 1, "its words are standings");
            else if (!_columns[index].HasValues) _proposals[index] = Plain(index, ColumnRole.LeftOut, 1, _columns[index].WordCount > 0 ? "it holds words" : "it holds no value");
            else _proposals[index] = ByName(index, heading, LogColumnName.Read(heading.IsMadeUp ? "" : heading.Name, naming));
        }
    }

    private ColumnProposal Plain(int index, ColumnRole role, double confidence, string why) =>
        new(index, _layout.Headings[index].Text, role, LogQuantity.Other, LogPlace.Whole, LogStatistic.Mean, _layout.Headings[index].Unit, 1, confidence, why);

    private ColumnProposal ByName(int index, LogHeading heading, LogColumnName name)
    {
        var written = _columns[index].CellUnit.Length > 0 ? _columns[index].CellUnit : heading.Unit.Length > 0 ? heading.Unit : UnitIn(heading.Name);
        var unit = UnitText.Parse(written);
        var quantity = QuantityOf(name, unit, out var byName);
        var statistic = StatisticOf(name.Words);
        var order = name.Order;
        if (order > 0 && quantity is not (LogQuantity.VoltageHarmonic or LogQuantity.CurrentHarmonic)) quantity = LogQuantity.Other;
        if (quantity is LogQuantity.VoltageHarmonic or LogQuantity.CurrentHarmonic && (order < 2 || unit is { IsKnown: true, Base: not "%" })) quantity = LogQuantity.Other;
        if (quantity == LogQuantity.Other) return Other(index, written, byName);

        var needed = LogUnit.Of(quantity);
        var isRatio = needed.Length == 0;
        if (unit.IsKnown && unit.Base != needed && !(isRatio && unit.Base == "%"))
        {
            _questions.Add($"What does column '{heading.Text}' hold? Its name says {byName}, its unit {written}.");
            return Other(index, written, $"its name says {byName}, but its unit is {written}");
        }

        var factor = _columns[index].CellUnit.Length > 0 ? 1 : unit.IsKnown ? unit.Factor * PercentFactor(quantity, unit) : 1;
        _isUnitOpen[index] = !unit.IsKnown && _columns[index].CellUnit.Length == 0;
        var why = unit.IsKnown ? (byName.Length > 0 ? $"name ({byName}) and unit {written}" : $"unit {written}") : $"name ({byName})";
        var confidence = unit.IsKnown || isRatio ? (byName.Length > 0 ? 0.95 : 0.7) : 0.8;
        // 'in (A)' beside 'i1 (A)' is the neutral's current; 'in (kWh)' is what came in.
        var place = quantity == LogQuantity.Current && string.Equals(heading.Name, "in", StringComparison.OrdinalIgnoreCase) ? LogPlace.Neutral : PlaceOf(name, quantity);
        if (name.Unknown.Count > 0)
        {
            confidence -= 0.05 * Math.Min(name.Unknown.Count, 3);
            why += $"; not understood: {string.Join(", ", name.Unknown.Select(word => $"'{word}'"))}";
        }

        var isEnergy = quantity is LogQuantity.ActiveEnergy or LogQuantity.ReactiveEnergy or LogQuantity.ApparentEnergy;
        if (isEnergy && (name.Words & (LogWord.Counter | LogWord.Interval)) is var kind and not LogWord.None)
        {
            statistic = kind.HasFlag(LogWord.Counter) ? LogStatistic.Counter : LogStatistic.Amount;
        }
        else if (isEnergy && statistic is LogStatistic.Mean)
        {
            (statistic, var reason) = ColumnTies.IsCounter(_columns[index].Numbers!) ? (LogStatistic.Counter, "it rises: a counter") : (LogStatistic.Amount, "it does not rise all along: the energy of each interval");
            why += $"; {reason}";
        }

        return new ColumnProposal(index, heading.Text, ColumnRole.Value, quantity, place, statistic, written, factor, confidence, why)
        {
            IsExport = (isEnergy || quantity is LogQuantity.ActivePower or LogQuantity.ReactivePower) && (name.Words & (LogWord.Export | LogWord.Leading)) != 0,
            Order = order,
        };
    }

    private ColumnProposal Other(int index, string unit, string why)
    {
        var isKnown = UnitText.Parse(unit) is { IsKnown: true };
        return Plain(index, ColumnRole.Value, isKnown ? 0.3 : 0.2, why.Length > 0 ? $"kept under its own name: {why}" : "kept under its own name: neither name nor unit says what it is") with { Unit = unit };
    }

    private static string UnitIn(string name)
    {
        foreach (var word in name.Split([' ', '_', '-', '.', '/'], StringSplitOptions.RemoveEmptyEntries))
        {
            if (word.Length >= 2 && word is not ("VA" or "Va" or "va" or "sec" or "amp" or "amps" or "volt" or "volts" or "Volt" or "Volts" or "Amp" or "Amps" or "deg")
                && UnitText.Parse(word) is { IsKnown: true, Base: not "s" }) return word;
        }

        return "";
    }

    // True where a unit can be one of a quantity: powers and energies of all kinds share theirs, as recorders print kW above a reactive power.
    private static bool Goes(UnitText unit, LogQuantity quantity)
    {
        if (!unit.IsKnown || quantity == LogQuantity.Other) return true;
        var needed = LogUnit.Of(quantity);
        return unit.Base == needed || unit.Base == "%" || needed switch
        {
            "W" or "var" or "VA" => unit.Base is "W" or "var" or "VA",
            "Wh" or "varh" or "VAh" => unit.Base is "Wh" or "varh" or "VAh",
            _ => false,
        };
    }

    // A fraction of one where the unit is percent and the quantity a plain number.
    private static double PercentFactor(LogQuantity quantity, UnitText unit) => unit.Base == "%" && LogUnit.Of(quantity).Length == 0 ? 0.01 : 1;

    private static LogPlace PlaceOf(LogColumnName name, LogQuantity quantity) =>
        quantity is LogQuantity.Frequency or LogQuantity.VoltageUnbalance or LogQuantity.CurrentUnbalance or LogQuantity.ZeroSequenceUnbalance ? LogPlace.Whole : name.Place;

    private static LogStatistic StatisticOf(LogWord words)
    {
        if (words.HasFlag(LogWord.Minimum)) return LogStatistic.Minimum;
        if (words.HasFlag(LogWord.Maximum)) return LogStatistic.Maximum;
        return words.HasFlag(LogWord.Instant) ? LogStatistic.Instant : LogStatistic.Mean;
    }

    private static LogQuantity QuantityOf(LogColumnName name, UnitText unit, out string byName)
    {
        var words = name.Words;
        bool Has(LogWord word) => (words & word) == word;
        (var quantity, byName) = (LogQuantity.Other, "");
        if (Has(LogWord.Derived) && !(Has(LogWord.Reactive) && !Has(LogWord.Maximum)))
        {
            byName = "something worked out from a quantity";
            return LogQuantity.Other;
        }

        var isVoltage = Has(LogWord.Voltage);
        var isCurrent = Has(LogWord.Current);
        var isPercent = unit is { IsKnown: true, Base: "%" };
        (quantity, byName) = words switch
        {
            _ when Has(LogWord.ShortFlicker) => (LogQuantity.ShortTermFlicker, "short-term flicker"),
            _ when Has(LogWord.LongFlicker) => (LogQuantity.LongTermFlicker, "long-term flicker"),
            _ when Has(LogWord.Displacement) => (LogQuantity.DisplacementFactor, "displacement factor"),
            _ when Has(LogWord.LetterK) && Has(LogWord.Factor) => (LogQuantity.KFactor, "K-factor"),
            _ when Has(LogWord.Crest) && isCurrent => (LogQuantity.CurrentCrest, "crest factor of a current"),
            _ when Has(LogWord.Crest) => (LogQuantity.VoltageCrest, "crest factor"),
            // A power factor while leading is a figure of its own.
            _ when Has(LogWord.Factor) && Has(LogWord.Power) && Has(LogWord.Leading) => (LogQuantity.Other, "power factor while leading"),
            _ when Has(LogWord.Factor) && Has(LogWord.Power) => (LogQuantity.PowerFactor, "power factor"),
            _ when Has(LogWord.Distortion) => (isCurrent ? LogQuantity.CurrentDistortion : isVoltage ? LogQuantity.VoltageDistortion : LogQuantity.Other, "total harmonic distortion"),
            _ when Has(LogWord.Harmonic) || (name.Order > 1 && isPercent) => (isCurrent ? LogQuantity.CurrentHarmonic : isVoltage ? LogQuantity.VoltageHarmonic : LogQuantity.Other, "a harmonic"),
            _ when Has(LogWord.Unbalance) && isCurrent => (LogQuantity.CurrentUnbalance, "unbalance of the currents"),
            _ when Has(LogWord.Unbalance) && Has(LogWord.Zero) => (LogQuantity.ZeroSequenceUnbalance, "zero-sequence unbalance"),
            _ when Has(LogWord.Unbalance) => (LogQuantity.VoltageUnbalance, "unbalance of the voltages"),
            _ when Has(LogWord.Angle) => (isCurrent ? LogQuantity.CurrentAngle : isVoltage ? LogQuantity.VoltageAngle : LogQuantity.Other, "an angle"),
            _ when Has(LogWord.Frequency) => (LogQuantity.Frequency, "frequency"),
            // u2, u0 and i2 in percent are sequence components over the positive one.
            _ when isPercent && isVoltage && name.Place == LogPlace.Phase2 => (LogQuantity.VoltageUnbalance, "negative-sequence unbalance"),
            _ when isPercent && isVoltage && Has(LogWord.Zero) => (LogQuantity.ZeroSequenceUnbalance, "zero-sequence unbalance"),
            _ when isPercent && isCurrent && name.Place == LogPlace.Phase2 => (LogQuantity.CurrentUnbalance, "negative-sequence unbalance"),
            _ when Has(LogWord.Zero) => (LogQuantity.Other, "a zero-sequence quantity"),
            _ when Has(LogWord.Energy) || unit is { IsKnown: true, Base: "Wh" or "varh" or "VAh" } => Energy(words, unit),
            _ when (words & (LogWord.Power | LogWord.Active | LogWord.Reactive | LogWord.Apparent)) != 0 || unit is { IsKnown: true, Base: "W" or "var" or "VA" } => Power(words, unit),
            _ when isVoltage && isCurrent => unit.Base switch { "V" => (LogQuantity.Voltage, "voltage"), "A" => (LogQuantity.Current, "current"), _ => (LogQuantity.Other, "voltage and current") },
            _ when isVoltage => (LogQuantity.Voltage, "voltage"),
            _ when isCurrent => (LogQuantity.Current, "current"),
            // Import and export alone are energies or powers, by their unit above.
            _ => (ByUnit(unit), ""),
        };
        return quantity;
    }

    private static LogQuantity ByUnit(UnitText unit) => !unit.IsKnown ? LogQuantity.Other : unit.Base switch
    {
        "V" => LogQuantity.Voltage,
        "A" => LogQuantity.Current,
        "Hz" => LogQuantity.Frequency,
        _ => LogQuantity.Other,
    };

    private static (LogQuantity Quantity, string Says) Energy(LogWord words, UnitText unit) => unit is { IsKnown: true, Base: "varh" } || (words.HasFlag(LogWord.Reactive) && unit.Base != "Wh")
        ? (LogQuantity.ReactiveEnergy, "reactive energy")
        : unit is { IsKnown: true, Base: "VAh" } || (words.HasFlag(LogWord.Apparent) && unit.Base != "Wh")
            ? (LogQuantity.ApparentEnergy, "apparent energy")
            : (LogQuantity.ActiveEnergy, "energy");

    private static (LogQuantity Quantity, string Says) Power(LogWord words, UnitText unit) => unit switch
    {
        { IsKnown: true, Base: "W" } when !words.HasFlag(LogWord.Reactive) => (LogQuantity.ActivePower, "power"),
        { IsKnown: true, Base: "var" } => (LogQuantity.ReactivePower, "reactive power"),
        { IsKnown: true, Base: "VA" } when !words.HasFlag(LogWord.Reactive) => (LogQuantity.ApparentPower, "apparent power"),
        _ when words.HasFlag(LogWord.Reactive) => (LogQuantity.ReactivePower, "reactive power"),
        _ when words.HasFlag(LogWord.Apparent) => (LogQuantity.ApparentPower, "apparent power"),
        _ when words.HasFlag(LogWord.Active) || words.HasFlag(LogWord.Power) => (LogQuantity.ActivePower, "power"),
        _ => (LogQuantity.Other, ""),
    };

    private void TellOpenUnits()
    {
        var open = new Dictionary<string, List<string>>(StringComparer.Ordinal);
        for (var index = 0; index < _columns.Length; index++)
        {
            if (!_isUnitOpen[index] || _proposals[index] is not { Role: ColumnRole.Value } proposal) continue;
            var unit = LogUnit.Of(proposal.Quantity);
            if (unit.Length == 0) continue;
            if (!open.TryGetValue(unit, out var headings)) open[unit] = headings = [];
            headings.Add(proposal.Heading);
            _proposals[index] = proposal with { Unit = unit, Confidence = Math.Min(proposal.Confidence, 0.6), Why = $"{proposal.Why}; unit assumed" };
        }

        foreach (var (unit, headings) in open)
        {
            var isOne = headings.Count == 1;
            var names = string.Join(", ", headings.Select(heading => $"'{heading}'"));
            _warnings.Add(new ReadWarning($"{(isOne ? $"Column {names} states" : $"Columns {names} state")} no unit; {unit} is assumed. Write the unit in the heading, as in '{headings[0]} ({unit})'."));
            _questions.Add($"In which unit {(isOne ? "is column" : "are columns")} {names}?");
        }

        // Of many for one reason the first are named: each has its own line in what is shown of the columns.
        foreach (var alike in _proposals.OfType<ColumnProposal>().Where(proposal => proposal.IsUnknown).GroupBy(proposal => proposal.Why))
        {
            var count = alike.Count();
            if (count <= MostNamed)
            {
                foreach (var proposal in alike) _warnings.Add(new ReadWarning($"Column '{proposal.Heading}' is {proposal.Why}."));
            }
            else
            {
                _warnings.Add(new ReadWarning($"{count} columns are {alike.Key.Replace("its own name", "their own name", StringComparison.Ordinal)}: {string.Join(", ", alike.Take(MostNamed).Select(proposal => $"'{proposal.Heading}'"))} and {count - MostNamed} more."));
            }
        }
    }

    // Two columns of one meaning: the surer one has it, the other keeps its own name.
    private void PartDoubles()
    {
        var taken = new Dictionary<(LogQuantity, LogPlace, LogStatistic, bool, int), int>();
        foreach (var proposal in _proposals.OrderByDescending(proposal => proposal!.Confidence).ThenBy(proposal => proposal!.Index).ToList())
        {
            if (proposal is not { Role: ColumnRole.Value, Quantity: not LogQuantity.Other }) continue;
            if (taken.TryAdd((proposal.Quantity, proposal.Place, proposal.Statistic, proposal.IsExport, proposal.Order), proposal.Index)) continue;
            var first = _proposals[taken[(proposal.Quantity, proposal.Place, proposal.Statistic, proposal.IsExport, proposal.Order)]]!;
            _warnings.Add(new ReadWarning($"Columns '{first.Heading}' and '{proposal.Heading}' both seem to hold the same; the first is taken, the other is kept under its own name. State which is which."));
            _proposals[proposal.Index] = proposal with
            {
                Quantity = LogQuantity.Other,
                Factor = 1,
                Order = 0,
                IsExport = false,
                Confidence = 0.3,
                Why = $"kept under its own name: '{first.Heading}' seems to hold the same",
            };
        }
    }
}
