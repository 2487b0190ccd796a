using System.Collections.Immutable;
using System.Globalization;
using System.Security.Cryptography;
using Leadwright.Client.Controls;
using Leadwright.Client.Devices;
using Leadwright.Client.Model;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Panels;
using Leadwright.Core.Practice;
using Leadwright.Reports.Practice;
using Leadwright.Formats;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Forms;

namespace Leadwright.Client.Pages;

/// <summary>The practice screen: an exercise, its answer and its mark; on a phone one question at a time.</summary>
public sealed partial class PracticePage : ComponentBase
{
    private const int SeedsBelow = 1_000_000;

    private static readonly string[] s_names = Enum.GetNames<PracticeStep>();

    private static readonly ImmutableArray<Choice<PracticeForm>> s_forms =
        [.. Enum.GetValues<PracticeForm>().Select(form => new Choice<PracticeForm>(form, PracticeWording.Title(form), PracticeWording.Summary(form)))];

    private static readonly ImmutableArray<Choice<int>> s_levels = [new(1, "1 easy"), new(2, "2 ordinary"), new(3, "3 hard")];

    private static readonly ImmutableArray<Choice<ServiceKind?>> s_services =
        [new(null, "Any"), .. Service.All.Select(service => new Choice<ServiceKind?>(service.Kind, ServiceName(service.Kind)))];

    private static readonly ImmutableArray<Choice<LoadFamily?>> s_loads =
    [
        new(null, "Any"), new(LoadFamily.Ordinary, "Ordinary"), new(LoadFamily.Motors, "Motors"), new(LoadFamily.Unbalanced, "Unbalanced"),
        new(LoadFamily.Export, "Generation"), new(LoadFamily.Leading, "Leading"), new(LoadFamily.Light, "Light load"), new(LoadFamily.Distorted, "Distorted"),
    ];

    private static readonly ImmutableArray<Choice<int?>> s_sure =
    [
        .. new[] { 10, 25, 50, 60, 70, 80, 90, 95, 99 }.Select(percent => new Choice<int?>(percent, $"{percent} %", string.Create(
            CultureInfo.InvariantCulture,
            $"right {Signed(percent, true)}\nwrong {Signed(percent, false)}"))),
    ];

    private const int MostSheets = 60;
    private const long MostSheetBytes = 4L << 20;
    private string _gathered = "", _gatherProblem = "";
    private ElementReference _title;
    private ElementReference _look;
    private ElementReference _answer;
    private ElementReference _sure;
    private PracticeStep _step;
    private PracticeStep? _focused;
    private PracticeForm _form;
    private int _level = 1;
    private ServiceKind? _service;
    private LoadFamily? _load;
    private string _seed = "";
    private bool _asksClear;
    private ImmutableArray<Choice<string>> _choices = [];
    private HookupVerdict? _diagram;
    private Exercise? _prepared;

    /// <summary>The question on the screen; anything else is the first.</summary>
    [Parameter]
    public string? StepName { get; set; }

    [Inject]
    private PracticeSheet Sheet { get; set; } = null!;

    [Inject]
    private IDevice Device { get; set; } = null!;

    [Inject]
    private NavigationManager Navigation { get; set; } = null!;

    private bool IsSeedWrong => _seed.Length > 0 && !ulong.TryParse(_seed.Trim(), NumberStyles.None, CultureInfo.InvariantCulture, out _);

    private ColourScheme Scheme => SiteColours.SchemeOf(Sheet.SchemeId);

    private PracticeStep Reached => Sheet.Exercise is not { } exercise ? PracticeStep.Choose
        : Sheet.Document is not null ? PracticeStep.Mark
        : !Sheet.Draft.IsPlaced(exercise) ? PracticeStep.Answer : PracticeStep.Sure;

    /// <inheritdoc/>
    protected override async Task OnInitializedAsync()
    {
        await Sheet.OpenAsync();
        Go();
    }

    /// <inheritdoc/>
    protected override void OnParametersSet() => Go();

    /// <inheritdoc/>
    protected override async Task OnAfterRenderAsync(bool firstRender)
    {
        // A new question is read out from its heading; the first one is where the browser starts anyway.
        if (_focused is not null && _focused != _step)
        {
            var heading = _step switch
            {
                PracticeStep.Look => _look,
                PracticeStep.Answer => _answer,
                PracticeStep.Sure => _sure,
                _ => _title,
            };
            await heading.FocusAsync();
        }

        _focused = _step;
        if (_step != PracticeStep.Mark || !Sheet.IsAsking) return;

        // One breath for the browser to draw the mark before the check keeps it busy.
        await Task.Delay(30);
        Sheet.Ask();
        StateHasChanged();
    }

    private void Go()
    {
        var wanted = Enum.TryParse<PracticeStep>(StepName, true, out var step) && Enum.IsDefined(step) ? step : PracticeStep.Choose;

        // An address of a question that can't be answered yet, or no more, leads to the one that can.
        _step = wanted == PracticeStep.Choose || Sheet.Exercise is null ? PracticeStep.Choose
            : Sheet.Document is not null ? PracticeStep.Mark
            : wanted > Reached ? Reached : wanted;
        _asksClear = false;
        if (_prepared == Sheet.Exercise) return;
        _prepared = Sheet.Exercise;
        _choices = Sheet.Exercise is { } exercise
            ? [.. exercise.Choices.Select(choice => new Choice<string>(choice, Shown.Words(PracticeWording.Choice(exercise, choice))))] : [];
        _diagram = Sheet.Exercise is { Readings: { } readings } ? ReadingVectors.Of(readings) : null;
    }

    private Task BeginAsync()
    {
        var key = new ExerciseKey(_form, null, null, _level, SeedOf(_seed));
        return BeginAsync(key.TakesSite ? key with { Service = _service, Load = _load } : key);
    }

    private Task NextAsync() => BeginAsync(Sheet.Exercise!.Key with { Seed = SeedOf("") });

    private async Task BeginAsync(ExerciseKey key)
    {
        await Sheet.BeginAsync(key);
        Navigation.NavigateTo("practice/look");
    }

    private async Task MarkAsync()
    {
        await Sheet.MarkAsync();
        Navigation.NavigateTo("practice/mark");
    }

    private async Task SaveScores() => await Device.SaveFileAsync("scores.csv", ClassSheetCsv.Of(new ClassSheet(Sheet.Scores)));

    private async Task GatherAsync(InputFileChangeEventArgs args)
    {
        (_gathered, _gatherProblem) = ("", "");
        try
        {
            var files = new List<Formats.InputFile>();
            foreach (var file in args.GetMultipleFiles(MostSheets))
            {
                await using var stream = file.OpenReadStream(MostSheetBytes);
                files.Add(await Formats.InputFile.FromStreamAsync(file.Name, stream, CancellationToken.None));
            }

            _gathered = await Sheet.GatherAsync(files) switch { 0 => "Nothing new: these scores are here already.", 1 => "1 score was added.", var count => $"{count} scores were added." };
        }
        catch (FormatReadException refused)
        {
            _gatherProblem = $"{refused.Message} Nothing was added.";
        }
        catch (Exception refused) when (refused is IOException or InvalidOperationException)
        {
            _gatherProblem = $"Expected at most {MostSheets} class sheets of at most {MostSheetBytes >> 20} MB each. Nothing was added.";
        }
    }

    // Asked twice: what is gone is gone.
    private async Task ClearScores()
    {
        if (_asksClear) await Sheet.ClearScoresAsync();
        _asksClear = !_asksClear;
    }

    private static ulong SeedOf(string text) => ulong.TryParse(text.Trim(), NumberStyles.None, CultureInfo.InvariantCulture, out var seed)
        ? seed : (ulong)RandomNumberGenerator.GetInt32(SeedsBelow);

    private static string ServiceName(ServiceKind kind) => kind switch
    {
        ServiceKind.Wye => "Wye",
        ServiceKind.Delta => "Delta",
        ServiceKind.DeltaTwoClamp => "Delta, two clamps",
        ServiceKind.HighLeg => "High leg",
        ServiceKind.Split => "Split",
        ServiceKind.Network => "Two lines of a wye",
        _ => "Two-wire",
    };

    private static string Signed(int percent, bool isRight)
    {
        var points = Math.Round(Marking.MostConfidencePoints * ConfidenceScore.Points(percent / 100.0, isRight));
        return points < 0 ? string.Create(CultureInfo.InvariantCulture, $"−{-points:0}") : string.Create(CultureInfo.InvariantCulture, $"+{points:0}");
    }

    private string Text(double value, string format) => Shown.Number(value, format);
}
