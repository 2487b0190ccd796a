using System.Collections.Immutable;
using Leadwright.Client.Model.Charts;
using Leadwright.Client.Model.Shown;
using Leadwright.Client.Surveys;
using Leadwright.Reports.Mending;
using Microsoft.AspNetCore.Components;

namespace Leadwright.Client.Pages;

/// <summary>The mending screen: corrections as layers that can be switched, before and after, how far it can be trusted, the journal.</summary>
public sealed partial class MendPage : SurveyScreen
{
    private const double TwoSided95 = 1.96;

    // Of one kind below each other: the same number of decimals.
    private const string Factor = "0.000";
    private const string Unbalance = "0.0";
    private const string Kilowatts = "0.00";

    private MendAnswer? _answer;
    private ImmutableArray<ChartColumn> _power = [];
    private ImmutableArray<ChartBand> _bands = [];
    private ImmutableArray<JournalRow> _journal = [];
    private ElementReference _whyField;
    private string _asked = "";
    private string _why = "";
    private string _whyProblem = "";
    private string _conflict = "";
    private bool _isSwitching;
    private bool _focusesWhy;
    private int _round;

    /// <inheritdoc/>
    protected override async Task FillAsync(CancellationToken cancellation)
    {
        _answer = await Api.MendAsync(Id, Recording, Progress, cancellation);
        var columns = await Api.ColumnsAsync(Id, Recording, true, cancellation);
        _power = WithRecorded(ChartPick.Power(columns));
        _bands = _power.Length > 2 ? [] : [.. _answer.Mend.Corrections.Select(BandOf).OfType<ChartBand>()];
        _journal = await Api.JournalAsync(Id, cancellation);
        _round++;
    }

    /// <inheritdoc/>
    protected override async Task OnAfterRenderAsync(bool firstRender)
    {
        if (!_focusesWhy) return;
        _focusesWhy = false;
        await _whyField.FocusAsync();
    }

    // What was recorded stands behind what is taken for true.
    private static ImmutableArray<ChartColumn> WithRecorded(ImmutableArray<ChartColumn> power) =>
        [.. power, .. power.Select(column => column with { Name = $"recorded:{column.Name}", Title = $"{column.Title}, as recorded", IsFaint = true, Shape = "", Look = 3, Label = "" })];

    private static ChartBand? BandOf(CorrectionSheet correction)
    {
        var hours = (correction.To - correction.From).TotalHours;
        return correction.UncertaintyKwh is > 0 and var sigma && hours > 0
            ? new ChartBand(ColumnFrame.MillisecondsOf(correction.From), ColumnFrame.MillisecondsOf(correction.To), TwoSided95 * sigma * 1000 / hours) : null;
    }

    private string Peak(FiguresSheet figures) =>
        figures.PeakKw is null ? "–" : $"{(figures.PeakIsAtLeast ? "at least " : "")}{Shown.Number(figures.PeakKw, Kilowatts)}{(figures.PeakMinutes > 0 ? $" over {Shown.Number(figures.PeakMinutes)} min" : "")}{(figures.PeakAt is { } at ? $", {ShownText.ShortMoment(at)}" : "")}";

    // One place for every energy, as far as the interval supports: they are held against each other.
    private string Energy(double? kilowattHours, bool isCounted = false)
    {
        var places = _answer?.Mend.Energy is { MendedKwh: { } mended, LowKwh: { } low, HighKwh: { } high }
            ? EnergyPlaces.Of(mended, (high - low) / 2) : EnergyPlaces.Of(_answer?.Mend.After?.Kwh ?? double.NaN);
        if (isCounted) places = places.OfCounted;
        return Shown.Number(kilowattHours is { } known ? places.Rounded(known) : null, places.Format);
    }

    private string Follows(MendLayer layer, MendAnswer answer)
    {
        var findings = layer.Correction.FollowsFrom;
        if (findings.IsEmpty) return "Follows from rows that are missing.";
        var parts = findings.Select(finding => $"{Shown.Says(finding.Says).TrimEnd('.')} ({When(finding, answer.Mend)})");
        var text = $"Follows from: {string.Join("; ", parts)}.";
        if (layer.Correction.HoldsChange) text += " The row in which it changed was rebuilt as well.";
        var isSwitched = answer.Layers.Any(other => other.CanSwitch && other.Correction.From < layer.Correction.To && other.Correction.To > layer.Correction.From
            && findings.Any(finding => finding.Channels.Intersect(other.Correction.Channels).Any()));
        return isSwitched ? $"{text} Switch that correction off, and this one goes with it." : text;
    }

    private static string When(GuardSpanSheet finding, MendSheet mend) => finding.From <= mend.From && finding.To >= mend.To ? "all the time"
        : finding.To >= mend.To ? $"from {ShownText.ShortMoment(finding.From)}" : $"{ShownText.ShortMoment(finding.From)} to {ShownText.ShortMoment(finding.To)}";

    private static string Count(int count) => count == 0 ? "None" : ShownText.Count(count);

    private void Ask(MendLayer layer) => (_asked, _why, _whyProblem, _focusesWhy) = (layer.Id, "", "", true);

    private void Leave() => _asked = "";

    private async Task SwitchAsync(MendLayer layer)
    {
        _whyProblem = _why.Trim().Length == 0 ? "Say why: the reason goes into the journal, where the report finds it." : "";
        if (_whyProblem.Length > 0 || _answer is null) return;
        _isSwitching = true;
        _conflict = "";
        try
        {
            await Api.SwitchAsync(Id, Recording, new LayerSwitch(layer.Id, !layer.IsOn, _why, _answer.Sequence), Leaving);
            _asked = "";
        }
        catch (SurveyApiException failure)
        {
            // What was typed stays in its field; the rest is shown as it is now.
            _conflict = failure.Message;
        }
        finally
        {
            _isSwitching = false;
        }

        var kept = _conflict;
        await LoadAsync();
        _conflict = kept;
    }
}
