using System.Collections.Immutable;
using Leadwright.Core.Measuring;
using Leadwright.Core.Signals.Lanes;
using Leadwright.Core.Signals.Spectra;
using Leadwright.Formats.Tables;

namespace Leadwright.Reports.Measuring;

/// <summary>How much of the spectra goes into a table.</summary>
public enum SpectrumDetail
{
    /// <summary>None.</summary>
    None,

    /// <summary>Harmonic subgroups. The default.</summary>
    Harmonics,

    /// <summary>Harmonic subgroups and interharmonic centred subgroups.</summary>
    All,
}

/// <summary>The columns of a table of intervals, and their values.</summary>
/// <remarks>Names carry the unit: <c>V1_rms_V</c>, <c>u2_percent</c>, <c>P1_W</c>. Documented in docs/formats/measured-tables.md.</remarks>
public sealed class MeasureTable
{
    private readonly MeasuringPlan _plan;
    private readonly DateTime? _start;
    private readonly ImmutableArray<TableColumn>.Builder _columns = ImmutableArray.CreateBuilder<TableColumn>();
    private readonly List<Action<IntervalValues, TableWriter>> _cells = [];

    /// <summary>Lays out the columns.</summary>
    /// <param name="plan">What is measured.</param>
    /// <param name="names">Name of the channel in each lane.</param>
    /// <param name="row">Where harmonics stand.</param>
    /// <param name="detail">How much of the spectra.</param>
    /// <param name="start">Time of the recording's start; null when not known.</param>
    /// <param name="demandAmperes">Demand current for total demand distortion; 0 for none.</param>
    public MeasureTable(
        MeasuringPlan plan, ImmutableArray<string> names, SpectrumRow row, SpectrumDetail detail, DateTime? start, double demandAmperes)
    {
        ArgumentNullException.ThrowIfNull(plan);
        (_plan, _start) = (plan, start);
        AddHead();
        AddScalars();
        for (var lane = 0; lane < Lane.Count; lane++)
        {
            if (plan.Has(lane)) AddLane(lane, names[lane], row, detail, demandAmperes);
        }

        Columns = _columns.ToImmutable();
    }

    /// <summary>The columns.</summary>
    public ImmutableArray<TableColumn> Columns { get; }

    /// <summary>Sets the cells of a row.</summary>
    /// <param name="values">The values.</param>
    /// <param name="writer">Receives them; the row is not ended.</param>
    public void Write(IntervalValues values, TableWriter writer)
    {
        foreach (var cell in _cells) cell(values, writer);
    }

    /// <summary>The marks of a row in words, separated by blanks; empty when there are none.</summary>
    public static string Words(ValueMarks marks) => string.Join(' ', Marks(marks));

    private static IEnumerable<string> Marks(ValueMarks marks)
    {
        if (marks.HasFlag(ValueMarks.Dip)) yield return "dip";
        if (marks.HasFlag(ValueMarks.Swell)) yield return "swell";
        if (marks.HasFlag(ValueMarks.Interruption)) yield return "interruption";
        if (marks.HasFlag(ValueMarks.Gap)) yield return "gap";
        if (marks.HasFlag(ValueMarks.Partial)) yield return "partial";
        if (marks.HasFlag(ValueMarks.FrequencyHeld)) yield return "frequency-held";
    }

    private void AddHead()
    {
        if (_start is { } start)
        {
            Add("start", TableColumnKind.Time, (values, writer, column) =>
                writer.Set(column, start.AddTicks((long)Math.Round(values.StartSeconds * TimeSpan.TicksPerSecond))));
        }

        Add("start_s", TableColumnKind.Number, (values, writer, column) => writer.Set(column, values.StartSeconds));
        Add("end_s", TableColumnKind.Number, (values, writer, column) => writer.Set(column, values.EndSeconds));
        Add("windows", TableColumnKind.Number, (values, writer, column) => writer.Set(column, values.WindowCount));
        Add("flagged_windows", TableColumnKind.Number, (values, writer, column) => writer.Set(column, values.FlaggedCount));
        Add("flags", TableColumnKind.Text, (values, writer, column) => writer.Set(column, Words(values.Flags)));
    }

    private void AddScalars()
    {
        var all = Scalars.All;
        for (var index = 0; index < all.Length; index++)
        {
            if (!IsThere(index)) continue;
            var scalar = index;
            var factor = all[index].Unit == "percent" ? 100 : 1;
            Single($"{all[index].Name}_{all[index].Unit}", values => factor * values.Of(scalar));
        }

        if (!HasPower) return;
        for (var phase = 0; phase < _plan.PhaseCount; phase++)
        {
            var first = Scalars.Phase + (phase * Scalars.PhaseCount);
            Single($"PF{phase + 1}", values => values.Of(first) / values.Of(first + 3));
            Single($"DPF{phase + 1}", values => values.Of(first + 1) / values.Of(first + 4));
        }

        Single("PF", values => values.Of(Scalars.Total) / values.Of(Scalars.Total + (_plan.PhaseCount == 3 ? 3 : 11)));
        Add("import_Wh", TableColumnKind.Number, (values, writer, column) => writer.Set(column, values.ImportWattHours));
        Add("export_Wh", TableColumnKind.Number, (values, writer, column) => writer.Set(column, values.ExportWattHours));
    }

    private bool HasPower
    {
        get
        {
            var needed = (1 << _plan.PhaseCount) - 1;
            return (_plan.Lanes & needed) == needed && ((_plan.Lanes >> Lane.VoltageCount) & needed) == needed;
        }
    }

    private bool IsThere(int scalar)
    {
        if (scalar == Scalars.Frequency) return true;
        if (scalar < Scalars.Phase)
        {
            var isCurrent = scalar >= Scalars.Unbalance + 3;
            var isZero = scalar is Scalars.Unbalance + 1 or Scalars.Unbalance + 4;
            return _plan.PhaseCount == 3 && (_plan.Lanes & (isCurrent ? 0x70 : 0x07)) == (isCurrent ? 0x70 : 0x07) && !(isZero && _plan.IsThreeWire);
        }

        if (!HasPower) return false;
        if (scalar < Scalars.Total) return (scalar - Scalars.Phase) / Scalars.PhaseCount < _plan.PhaseCount;
        return _plan.PhaseCount == 3 || scalar - Scalars.Total is < 3 or 6 or 11;
    }

    private void AddLane(int lane, string name, SpectrumRow row, SpectrumDetail detail, double demandAmperes)
    {
        var isVoltage = lane < Lane.VoltageCount;
        var unit = isVoltage ? "V" : "A";
        Add($"{name}_standing", TableColumnKind.Text, (values, writer, column) => writer.Set(column, values.ValidCount(lane) > 0 ? "measured" : "lost"));
        Single($"{name}_rms_{unit}", values => values.Rms(SpectrumRow.Rms, lane));
        Single($"{name}_min_{unit}", values => values.HalfCycleLeast(lane));
        Single($"{name}_max_{unit}", values => values.HalfCycleMost(lane));
        Single($"{name}_peak_{unit}", values => values.Peak(lane));
        Single($"{name}_dc_{unit}", values => values.Direct(lane));
        Single($"{name}_crest", values => values.Crest(lane));
        Single($"{name}_fundamental_{unit}", values => values.Rms(SpectrumRow.Fundamental, lane));
        Single($"{name}_thd_percent", values => 100 * values.Rms(SpectrumRow.SubgroupThd, lane));
        Single($"{name}_thd_group_percent", values => 100 * values.Rms(SpectrumRow.GroupThd, lane));
        if (isVoltage && _plan.Interval.Seconds >= 600) Single($"{name}_{(_plan.Interval.Seconds > 600 ? "plt" : "pst")}", values => values.Pst[lane]);
        if (_plan.SignallingHertz > 0 && isVoltage) Single($"{name}_signalling_V", values => values.Rms(SpectrumRow.Signalling, lane));
        if (!isVoltage)
        {
            Single($"{name}_k_factor", values => values.LossFactor(lane));
            if (demandAmperes > 0) Single($"{name}_tdd_percent", values => 100 * values.HarmonicRms(lane) / demandAmperes);
        }

        if (detail == SpectrumDetail.None) return;
        for (var order = 1; order <= row.HighestOrder; order++)
        {
            var at = SpectrumRow.Subgroup(order);
            Single($"{name}_h{order}_{unit}", values => values.Rms(at, lane));
        }

        if (detail != SpectrumDetail.All) return;
        for (var order = 0; order <= row.HighestOrder; order++)
        {
            var at = row.Interharmonic(order);
            Single($"{name}_ih{order}_{unit}", values => values.Rms(at, lane));
        }
    }

    private void Single(string name, Func<IntervalValues, double> value) =>
        Add(name, TableColumnKind.Single, (values, writer, column) => writer.Set(column, value(values)));

    private void Add(string name, TableColumnKind kind, Action<IntervalValues, TableWriter, int> cell)
    {
        var column = _columns.Count;
        _columns.Add(new TableColumn(name, kind));
        _cells.Add((values, writer) => cell(values, writer, column));
    }
}
