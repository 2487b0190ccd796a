using System.Collections.Immutable;
using Leadwright.Client.Controls;
using Leadwright.Client.Model.Charts;
using Leadwright.Client.Surveys;

namespace Leadwright.Client.Pages;

/// <summary>The study screen: load and voltage, charts of any column, vectors at the cursor, limits, events, findings.</summary>
public sealed partial class StudyPage : SurveyScreen
{
    private const string Voltages = "Voltage";
    private const string VoltageWaves = "VoltageWave";
    private const string Power = "power";

    private static readonly Choice<string>[] s_limits =
    [
        new("en-50160", "EN 50160", "supply voltage, Europe"), new("ansi-c84.1", "ANSI C84.1", "supply voltage, North America"),
        new("ieee-519", "IEEE 519", "harmonics"), new("nema-mg1", "NEMA MG 1", "unbalance at motors"), new("", "None", ""),
    ];

    private static readonly (string Quantity, string Name)[] s_quantities =
    [
        (Voltages, "Voltages"), ("Current", "Currents"), ("ActivePower", "Watts of the phases"), ("ReactivePower", "Vars of the phases"),
        ("PowerFactor", "Power factors"), ("VoltageDistortion", "Distortion of the voltages"), ("CurrentDistortion", "Distortion of the currents"),
        ("ShortTermFlicker", "Flicker Pst"), (VoltageWaves, "Waves of the voltages"), ("CurrentWave", "Waves of the currents"),
    ];

    private StudyAnswer? _answer;
    private ReportSheet? _wanted;
    private (string Place, string Says) _problem = ("", "");
    private VectorSheet? _vectors;
    private MomentSheet? _moment;
    private ImmutableArray<ColumnCard> _columns = [];
    private ImmutableArray<(string Key, string Name)> _choices = [];
    private ImmutableArray<ChartColumn> _shown = [];
    private ImmutableArray<ChartColumn> _lower = [];
    private string _choice = Power;
    private string? _limits;
    private bool _isChoosing;

    private bool HasWaves => _columns.Any(column => column.Quantity is VoltageWaves or "CurrentWave");

    private string LowerTitle => HasWaves ? _choice == VoltageWaves ? "Waves of the currents" : "Waves of the voltages" : _choice == Voltages ? "Currents" : "Voltages";

    private string Choice
    {
        get => _choice;
        set => Choose(value);
    }

    /// <inheritdoc/>
    protected override async Task FillAsync(CancellationToken cancellation)
    {
        _limits ??= LimitsOf(Sheet!);
        _wanted = await Api.ReportAsync(Id, cancellation);
        _answer = await Api.StudyAsync(Id, Recording, _limits, Progress, cancellation);
        try
        {
            _columns = await Api.ColumnsAsync(Id, Recording, _answer.IsMended, cancellation);
        }
        catch (SurveyApiException failure) when (!failure.IsAway)
        {
            _columns = [];
        }

        _choices = ChoicesOf(_columns);
        Choose(_choices.Any(choice => choice.Key == _choice) || _choices.IsEmpty ? _choice : _choices[0].Key);
        // Until a person points somewhere: the moment of the largest demand.
        if (!_columns.IsEmpty) await PointAsync(_answer.Study.Demand?.From ?? _answer.Study.From);
    }

    // As planned; else those of the part of the world that the nominal voltage belongs to.
    private static string LimitsOf(SurveySheet sheet)
    {
        if (sheet.Limits.Length > 0) return sheet.Limits;
        return sheet.Nominal.Length == 0 || sheet.Nominal.StartsWith("23", StringComparison.Ordinal) || sheet.Nominal.Contains("400", StringComparison.Ordinal) ? "en-50160" : "ansi-c84.1";
    }

    private static ImmutableArray<(string Key, string Name)> ChoicesOf(ImmutableArray<ColumnCard> columns)
    {
        var choices = ImmutableArray.CreateBuilder<(string, string)>();
        if (!ChartPick.Power(columns).IsEmpty) choices.Add((Power, "Power, total"));
        choices.AddRange(s_quantities.Where(quantity => !ChartPick.Of(columns, quantity.Quantity).IsEmpty));
        choices.AddRange(columns.Select(column => ("column:" + column.Name, column.Unit.Length > 0 ? $"{column.Title} ({column.Unit})" : column.Title)));
        return choices.ToImmutable();
    }

    private void Choose(string choice)
    {
        _choice = choice;
        _shown = choice == Power ? ChartPick.Power(_columns)
            : choice.StartsWith("column:", StringComparison.Ordinal) ? [.. _columns.Where(column => "column:" + column.Name == choice).Select(ChartPick.Look)]
            : ChartPick.Of(_columns, choice);
        _lower = ChartPick.Of(_columns, HasWaves ? choice == VoltageWaves ? "CurrentWave" : VoltageWaves : choice == Voltages ? "Current" : Voltages);
    }

    private async Task ChooseLimitsAsync(string? limits)
    {
        _limits = limits ?? "";
        await LoadAsync();
    }

    private async Task KeepAsync(ReportField field, string text)
    {
        _problem = ("", "");
        try
        {
            await Api.WriteAsync(Id, new WordsChange(field.Place, text, _wanted!.Sequence), Leaving);
            _isChoosing = true;
            await LoadAsync();
        }
        catch (SurveyApiException failure)
        {
            // What was typed stays in its field.
            _problem = (field.Place, failure.Message);
        }
        catch (OperationCanceledException)
        {
            // The page was left.
        }
    }

    private async Task PointAsync(DateTime time)
    {
        try
        {
            _moment = HasWaves ? await Api.MomentAsync(Id, Recording, time, Leaving) : null;
            _vectors = HasWaves ? _moment!.Vectors : await Api.VectorsAsync(Id, Recording, _answer?.IsMended == true, time, Leaving);
        }
        catch (Exception failure) when (failure is SurveyApiException or OperationCanceledException)
        {
            // The charts say it when the program does not answer.
            (_vectors, _moment) = (null, null);
        }
    }

    private string Address(string path, string more = "") =>
        $"api/surveys/{Uri.EscapeDataString(Id)}/{path}?recording={Uri.EscapeDataString(Recording)}&limits={Uri.EscapeDataString(_limits ?? "")}{more}";

    private static ImmutableArray<LimitSheet> Judged(StudySheet study) => [.. study.Limits.Where(line => line.Verdict is "pass" or "fail").OrderBy(line => line.Verdict == "pass")];

    private static ImmutableArray<LimitSheet> Open(StudySheet study) => [.. study.Limits.Where(line => line.Verdict is not ("pass" or "fail"))];

    private static string PlotName(string plot) => plot switch
    {
        "load-profile.svg" => "Load over time",
        "load-duration.svg" => "Load-duration curve",
        "load-by-day-and-hour.svg" => "Load by day and hour",
        "voltage-profile.svg" => "Voltage over time",
        "voltage-histogram.svg" => "How often each voltage was there",
        "events.svg" => "Events by duration and magnitude",
        _ => plot,
    };
}
