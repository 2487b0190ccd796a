using System.Collections.Immutable;
using Leadwright.Client.Model.Waiting;
using Leadwright.Client.Surveys;
using Microsoft.AspNetCore.Components;

namespace Leadwright.Client.Controls;

/// <summary>What was made on this device and is to be put into a survey.</summary>
public sealed partial class WaitingList : ComponentBase, IDisposable
{
    private const string New = "\u0001new";
    private readonly Dictionary<string, string> _chosen = new(StringComparer.Ordinal);
    private readonly Dictionary<string, string> _names = new(StringComparer.Ordinal);
    private string _dropping = "";
    private string _done = "";
    private string _problem = "";
    private bool _isPutting;

    /// <summary>The surveys; null while the program does not answer.</summary>
    [Parameter]
    public ImmutableArray<SurveyCard>? Surveys { get; set; }

    /// <summary>Told when something was put into a survey.</summary>
    [Parameter]
    public EventCallback Put { get; set; }

    [Inject]
    private WaitingShelf Shelf { get; set; } = null!;

    /// <inheritdoc/>
    public void Dispose() => Shelf.Changed -= StateHasChanged;

    /// <inheritdoc/>
    protected override async Task OnInitializedAsync()
    {
        Shelf.Changed += StateHasChanged;
        await Shelf.OpenAsync();
    }

    private string ChosenOf(WaitingItem item) => _chosen.GetValueOrDefault(item.Id) ?? item.SurveyId;

    private string NameOf(WaitingItem item) => _names.GetValueOrDefault(item.Id) ?? item.SurveyName;

    private async Task PutAsync(WaitingItem item, bool isOver)
    {
        (_isPutting, _done, _problem, _dropping) = (true, "", "", "");
        try
        {
            if (ChosenOf(item) == New)
            {
                var made = await Shelf.PutIntoNewAsync(item, NameOf(item).Trim());
                _done = $"It is in the new survey '{made.Name}'.";
            }
            else if (Surveys?.FirstOrDefault(survey => survey.Id == ChosenOf(item)) is { } survey)
            {
                await Shelf.PutAsync(item, survey, isOver);
                _done = $"It is in the survey '{survey.Name}'.";
            }

            await Put.InvokeAsync();
        }
        catch (SurveyApiException failure)
        {
            // A refusal stands with the thing; that nobody answered stands below.
            if (failure.IsAway) _problem = "The program does not answer. It waits on here; try again once the program is in reach.";
        }
        finally
        {
            _isPutting = false;
        }
    }

    // Asked twice: what is gone is gone.
    private async Task DropAsync(WaitingItem item)
    {
        if (_dropping != item.Id)
        {
            _dropping = item.Id;
            return;
        }

        _dropping = "";
        await Shelf.ForgetAsync(item);
    }
}
