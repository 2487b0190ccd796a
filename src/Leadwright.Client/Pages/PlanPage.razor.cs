using System.Collections.Immutable;
using Leadwright.Client.Controls;
using Leadwright.Client.Devices;
using Leadwright.Client.Model;
using Leadwright.Client.Model.Waiting;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Planning;
using Leadwright.Reports.Planning;
using Microsoft.AspNetCore.Components;

namespace Leadwright.Client.Pages;

/// <summary>The plan screen: on a phone one question at a time, on a desk all at once with the sheet beside them.</summary>
public sealed partial class PlanPage : ComponentBase
{
    private static readonly string[] s_names = Enum.GetNames<PlanStep>();

    private static readonly ImmutableArray<Choice<ServiceKind?>> s_services =
        [.. ServiceChoice.All.Select(choice => new Choice<ServiceKind?>(choice.Kind, choice.Title, choice.Says))];

    private static readonly ImmutableArray<Choice<double>> s_frequencies = [new(50, "50 Hz"), new(60, "60 Hz")];

    private static readonly ImmutableArray<Choice<LoadKind>> s_loads =
    [
        new(LoadKind.Mixed, "Mixed"), new(LoadKind.Motors, "Motors"), new(LoadKind.Lighting, "Lighting, heating"),
        new(LoadKind.Drives, "Drives, rectifiers"), new(LoadKind.Unknown, "Not known"),
    ];

    private static readonly ImmutableArray<Choice<bool>> s_exports = [new(false, "No"), new(true, "Yes, generation")];

    private readonly ElementReference[] _titles = new ElementReference[5];
    private PlanStep _step;
    private PlanStep? _focused;
    private string _kept = "";

    /// <summary>The question on the screen; anything else is the first.</summary>
    [Parameter]
    public string? StepName { get; set; }

    [Inject]
    private PlanBoard Board { get; set; } = null!;

    [Inject]
    private WaitingShelf Shelf { get; set; } = null!;

    [Inject]
    private IDevice Device { get; set; } = null!;

    private PlanStep Reached => Board.Draft.NominalVolts is null ? PlanStep.Service : PlanStep.Sheet;

    private bool IsNominalWrong => Board.Draft.Nominal.Length > 0 && Board.Draft.NominalVolts is null;

    /// <inheritdoc/>
    protected override async Task OnInitializedAsync()
    {
        await Board.OpenAsync();
        Go();
    }

    /// <inheritdoc/>
    protected override void OnParametersSet() => Go();

    /// <inheritdoc/>
    protected override async Task OnAfterRenderAsync(bool firstRender)
    {
        // A new question is read out from its heading; the first one is where the browser starts anyway.
        if (_focused is not null && _focused != _step) await _titles[(int)_step].FocusAsync();
        _focused = _step;
    }

    private void Go()
    {
        var wanted = Enum.TryParse<PlanStep>(StepName, true, out var step) && Enum.IsDefined(step) ? step : PlanStep.Service;
        _step = wanted > Reached ? Reached : wanted;
        _kept = "";
    }

    private static string Address(PlanStep step) => $"plan/{step.ToString().ToLowerInvariant()}";

    private static ImmutableArray<Choice<string>> NominalsOf(ServiceKind service) =>
        [.. NominalChoices.Of(service).Select(nominal => new Choice<string>(nominal, nominal))];

    private static string Phrase(SurveyPurpose purpose) => purpose switch
    {
        SurveyPurpose.Load => "Energy, peak and shape, for the bill or the board",
        SurveyPurpose.SpareCapacity => "How much more a feeder can carry",
        SurveyPurpose.Voltage => "Against limits that judge a week",
        SurveyPurpose.Harmonics => "Voltages and currents, against limits",
        _ => "Record until it has come again",
    };

    private Task ChooseService(ServiceKind? service) => service is { } kind ? Board.ChooseServiceAsync(kind) : Task.CompletedTask;

    private Task Change(PlanDraft draft) => Board.ChangeAsync(draft);

    private Task Want(SurveyPurpose purpose, bool isWanted) => Change(Board.Draft with
    {
        Purposes = isWanted ? Board.Draft.Purposes.Add(purpose) : Board.Draft.Purposes.Remove(purpose),
    });

    private async Task KeepAsync()
    {
        var plan = KeptPlan.Of(Board);
        var content = $"{plan} {string.Join(' ', plan.Learn)}";
        if (content == Board.KeptContent)
        {
            _kept = "This plan is kept already.";
            return;
        }

        if (await Shelf.KeepAsync(plan, Board.Draft.Site.Trim() is { Length: > 0 } site ? $"{site}. {plan.Text}" : plan.Text) is null)
        {
            _kept = "This browser refuses to keep it (a private window, or no room). Save plan.json instead.";
            return;
        }

        (Board.KeptContent, _kept) = (content, "Kept on this device. Under Surveys it is put into the survey that it belongs to, or a new one is made of it.");
    }

    private async Task PrintAsync() => await Device.PrintAsync();

    private async Task SaveSheet()
    {
        await Device.SaveFileAsync("plan.html", PlanHtml.Of(Board.Sheet!, Board.Naming, Board.Draft.Site.Trim()));
        _kept = "Saved as plan.html: open it anywhere, and print it.";
    }

    private async Task SaveJson()
    {
        await Device.SaveFileAsync("plan.json", PlanJson.Line(Board.Sheet!, Board.Draft.Site.Trim()) + "\n");
        _kept = "Saved as plan.json.";
    }
}
