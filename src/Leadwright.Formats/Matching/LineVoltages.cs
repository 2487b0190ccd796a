using System.Globalization;
using Leadwright.Core.Circuits;
using Leadwright.Core.Logs;
using Leadwright.Formats.Logs;

namespace Leadwright.Formats.Matching;

/// <summary>Voltages from line to line and those of one line each, against the service as stated: recorders on three wires often write V12 under the name of line 1.</summary>
internal sealed class LineVoltages(ColumnProposal?[] proposals, ScannedColumn[] columns, ServiceKind service, double? nominalVolts, List<ReadWarning> warnings)
{
    private const double NearNominal = 0.15;

    // Three powers of V12·I1 and its like come to √3 times what is drawn: of more than 0.6 of them the power factor would be beyond one.
    private const double LeastOfStars = 0.64;

    // The nominal voltages of lines on three wires, and those to neutral where that is usual (StandardVoltages).
    private static readonly double[] s_lineVolts = [.. StandardVoltages.Of(ServiceKind.Delta).Select(nominal => nominal.LineToLineVolts)];
    private static readonly double[] s_starVolts = [110, 120, 127, 220, 230, 277, 347];

    /// <summary>Takes the columns as the service has them, and says how.</summary>
    public void Apply()
    {
        var phases = Voltages(LogPlace.Phase1);
        var pairs = Voltages(LogPlace.Pair12);
        if (service is ServiceKind.Delta or ServiceKind.DeltaTwoClamp)
        {
            if (pairs.Count == 0 && phases.Count > 0 && phases.TrueForAll(column => !proposals[column]!.IsStated)) TakeOnThreeWires(phases);
        }
        else if (service != ServiceKind.Single && phases.Count == 0 && pairs.Count > 0)
        {
            warnings.Add(new ReadWarning(
                $"The voltages were recorded from line to line ({Named(pairs, column => $"V{proposals[column]!.Place.Suffix()}")}), and the service as stated has a neutral. They are taken as they are, one line against the next: nothing is known of any line against the neutral, nor of lead VN. State --service delta where there is no neutral."));
        }
    }

    private void TakeOnThreeWires(List<int> phases)
    {
        var volts = Median([.. phases.Select(column => Median([.. columns[column].Numbers!.Where(double.IsFinite)]) * proposals[column]!.Factor)]);
        var headings = Named(phases, column => $"'{proposals[column]!.Heading}'");
        var one = proposals[phases[0]]!;
        var read = volts.ToString("0", CultureInfo.InvariantCulture);
        var start = phases.Count == 1 ? $"Column {headings} names one line" : $"Columns {headings} name one line each";
        if (!ArePairs(volts, phases))
        {
            warnings.Add(new ReadWarning(
                $"{start}, and the service as stated has three wires: {read} V are taken for what is from each line to the middle of the lines. If that is from line to line, say so: leadwright columns FILE --keep --set \"{one.Heading}=voltage,12,mean,V\", and so on."));
            return;
        }

        for (var column = 0; column < proposals.Length; column++)
        {
            if (proposals[column] is not { Role: ColumnRole.Value, IsStated: false, Place: >= LogPlace.Phase1 and <= LogPlace.Phase3 } proposal
                || proposal.Quantity is not (LogQuantity.Voltage or LogQuantity.VoltageAngle or LogQuantity.VoltageDistortion or LogQuantity.VoltageHarmonic or LogQuantity.VoltageCrest)) continue;
            proposals[column] = proposal with { Place = LogPlace.Pair12 + (proposal.Place - LogPlace.Phase1), Why = $"{proposal.Why}; from line to line, as three wires have it" };
        }

        warnings.Add(new ReadWarning(
            $"{start}, and the service as stated has three wires: {read} V are taken for what is from line to line, {Named(phases, column => $"V{proposals[column]!.Place.Suffix()}")}. If that is from each line to the middle of the lines, say so: leadwright columns FILE --keep --set \"{one.Heading}=voltage,1,mean,V\", and so on."));
    }

    private bool ArePairs(double volts, List<int> phases)
    {
        if (ShareOfProducts(phases) > LeastOfStars) return false;
        if (nominalVolts is { } nominal)
        {
            var (asStar, asLine) = (Math.Abs(Math.Log(volts / nominal)), Math.Abs(Math.Log(volts / (Math.Sqrt(3) * nominal))));
            if (Math.Min(asStar, asLine) < NearNominal) return asLine < asStar;
        }

        return Away(s_lineVolts) < Away(s_starVolts);

        double Away(double[] usual) => usual.Min(value => Math.Abs(Math.Log(volts / value)));
    }

    // The largest share that the total power has of volts times amperes; nothing where it can't be told.
    private double ShareOfProducts(List<int> phases)
    {
        var total = IndexOf(LogQuantity.ActivePower, LogPlace.Whole);
        int[] amperes = [.. ((LogPlace[])[LogPlace.Phase1, LogPlace.Phase2, LogPlace.Phase3]).Select(place => IndexOf(LogQuantity.Current, place))];
        if (total < 0 || phases.Count < 3 || amperes.Contains(-1)) return double.NaN;
        var shares = new List<double>();
        for (var row = 0; row < columns[total].Numbers!.Length; row++)
        {
            var share = Math.Abs(Value(total, row)) / phases.Zip(amperes, (volt, ampere) => Value(volt, row) * Value(ampere, row)).Sum();
            if (double.IsFinite(share)) shares.Add(share);
        }

        shares.Sort();
        return shares.Count == 0 ? double.NaN : shares[(int)(0.9 * (shares.Count - 1))];
    }

    private double Value(int column, int row) => columns[column].Numbers![row] * proposals[column]!.Factor;

    private int IndexOf(LogQuantity quantity, LogPlace place) => Array.FindIndex(proposals, proposal => IsOf(proposal, quantity) && proposal!.Place == place);

    private List<int> Voltages(LogPlace first) =>
        [.. Enumerable.Range(0, proposals.Length).Where(column => IsOf(proposals[column], LogQuantity.Voltage) && proposals[column]!.Place >= first && proposals[column]!.Place < first + 3).OrderBy(column => proposals[column]!.Place)];

    private static bool IsOf(ColumnProposal? proposal, LogQuantity quantity) =>
        proposal is { Role: ColumnRole.Value, Statistic: LogStatistic.Mean or LogStatistic.Instant, IsExport: false, Order: 0 } && proposal.Quantity == quantity;

    private static string Named(List<int> of, Func<int, string> name) =>
        of.Count == 1 ? name(of[0]) : $"{string.Join(", ", of.SkipLast(1).Select(name))} and {name(of[^1])}";

    private static double Median(double[] values)
    {
        Array.Sort(values);
        return values.Length == 0 ? double.NaN : values[values.Length / 2];
    }
}
