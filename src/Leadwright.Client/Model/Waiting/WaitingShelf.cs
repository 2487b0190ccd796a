using System.Collections.Immutable;
using Leadwright.Client.Devices;
using Leadwright.Client.Surveys;

namespace Leadwright.Client.Model.Waiting;

/// <summary>What was made on this device and waits to be put into its survey.</summary>
/// <remarks>A thing is forgotten here only after the program said that the survey has it. Each has a number of its own that the survey looks at, so that one
/// sent twice, from two windows or after an answer that got lost, is there once. Each stands under a name of its own: windows do not overwrite each other.</remarks>
/// <param name="device">Keeps them.</param>
/// <param name="api">The running program.</param>
/// <param name="clock">Says when they were made.</param>
public sealed class WaitingShelf(IDevice device, ISurveyApi api, TimeProvider clock)
{
    private const string Start = "leadwright.waiting.";

    /// <summary>What waits, the oldest first.</summary>
    public ImmutableArray<WaitingItem> Items { get; private set; } = [];

    /// <summary>True when something waits whose survey is known.</summary>
    public bool HasKnown => Items.Any(item => item.SurveyId.Length > 0 && item.Problem.Length == 0);

    /// <summary>Told when something came or went.</summary>
    public event Action? Changed;

    /// <summary>Reads anew what the device keeps: another window may have changed it.</summary>
    public async Task OpenAsync()
    {
        var items = ImmutableArray.CreateBuilder<WaitingItem>();
        foreach (var name in await device.NamesAsync(Start))
        {
            if (WaitingItem.OfKept(await device.RecallAsync(name)) is { } item) items.Add(item);
        }

        Items = [.. items.OrderBy(item => item.Made).ThenBy(item => item.Id, StringComparer.Ordinal)];
        Changed?.Invoke();
    }

    /// <summary>Keeps a check of the hook-up.</summary>
    /// <param name="check">The check.</param>
    /// <param name="says">What it is, in a line.</param>
    /// <param name="survey">The survey that it is for; null while nobody said.</param>
    /// <returns>What waits now; null when the device refused to keep it.</returns>
    public Task<WaitingItem?> KeepAsync(HookupKeep check, string says, SurveyCard? survey)
    {
        ArgumentNullException.ThrowIfNull(check);
        var item = Of(says, survey);
        return KeepAsync(item with { Check = check with { Id = item.Id, Made = item.Made } });
    }

    /// <summary>Keeps a plan.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="says">What it is, in a line.</param>
    /// <returns>What waits now; null when the device refused to keep it.</returns>
    public Task<WaitingItem?> KeepAsync(PlanKeep plan, string says)
    {
        ArgumentNullException.ThrowIfNull(plan);
        var item = Of(says, null);
        return KeepAsync(item with { Plan = plan with { Id = item.Id, Made = item.Made } });
    }

    /// <summary>Puts a thing into a survey.</summary>
    /// <param name="item">The thing.</param>
    /// <param name="survey">The survey.</param>
    /// <param name="isOver">True to put a plan over one that was changed meanwhile.</param>
    /// <param name="cancellation">Ends it; the thing waits on then.</param>
    /// <exception cref="SurveyApiException">It was refused or not answered; it waits on, with the reason unless the program was away.</exception>
    public async Task PutAsync(WaitingItem item, SurveyCard survey, bool isOver = false, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(item);
        ArgumentNullException.ThrowIfNull(survey);
        try
        {
            if (item.Check is { } check) await api.KeepAsync(survey.Id, check, cancellation);
            else await api.PlanAsync(survey.Id, item.Plan! with { IsOver = isOver }, cancellation);
        }
        catch (SurveyApiException failure) when (!failure.IsAway)
        {
            await KeepAsync(item with { SurveyId = survey.Id, SurveyName = survey.Name, Problem = failure.Message, IsConflict = failure.IsConflict });
            throw;
        }

        await ForgetAsync(item);
    }

    /// <summary>Makes a survey for a thing, and puts it there.</summary>
    /// <param name="item">The thing.</param>
    /// <param name="name">The survey's name.</param>
    /// <param name="cancellation">Ends it.</param>
    /// <returns>The survey.</returns>
    /// <exception cref="SurveyApiException">It was refused or not answered; the thing waits on.</exception>
    public async Task<SurveyCard> PutIntoNewAsync(WaitingItem item, string name, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(item);
        SurveyCard made = await api.MakeAsync(item.ForNewSurvey(name), cancellation);

        // Its survey is known from here on: a second try makes no second survey.
        var placed = item with { SurveyId = made.Id, SurveyName = made.Name, Problem = "" };
        await KeepAsync(placed);
        await PutAsync(placed, made, cancellation: cancellation);
        return made;
    }

    /// <summary>Puts everything whose survey is known into it, as far as the program answers.</summary>
    /// <param name="cancellation">Ends it.</param>
    /// <returns>What was put, the survey's name in it.</returns>
    public async Task<ImmutableArray<WaitingItem>> PutKnownAsync(CancellationToken cancellation = default)
    {
        await OpenAsync();
        var put = ImmutableArray.CreateBuilder<WaitingItem>();
        foreach (var item in Items.Where(item => item.SurveyId.Length > 0 && item.Problem.Length == 0))
        {
            try
            {
                await PutAsync(item, new SurveyCard(item.SurveyId, item.SurveyName), cancellation: cancellation);
                put.Add(item);
            }
            catch (SurveyApiException failure)
            {
                if (failure.IsAway) break;
            }
        }

        return put.ToImmutable();
    }

    /// <summary>Throws a thing away.</summary>
    /// <param name="item">The thing.</param>
    public async Task ForgetAsync(WaitingItem item)
    {
        ArgumentNullException.ThrowIfNull(item);
        await device.ForgetAsync(Start + item.Id);
        await OpenAsync();
    }

    private WaitingItem Of(string says, SurveyCard? survey) =>
        new(Guid.NewGuid().ToString("N"), clock.GetUtcNow(), says) { SurveyId = survey?.Id ?? "", SurveyName = survey?.Name ?? "" };

    private async Task<WaitingItem?> KeepAsync(WaitingItem item)
    {
        var isKept = await device.TryKeepAsync(Start + item.Id, item.ToKept());
        await OpenAsync();
        return isKept ? item : null;
    }
}
