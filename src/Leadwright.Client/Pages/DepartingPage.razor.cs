using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using Leadwright.Client.Controls;
using Leadwright.Client.Devices;
using Leadwright.Client.Surveys;
using Microsoft.AspNetCore.Components;

namespace Leadwright.Client.Pages;

/// <summary>The check before leaving the site: each item answered, signed with name and time.</summary>
public sealed partial class DepartingPage : SurveyScreen
{
    private const string Yes = "yes";

    private static readonly Choice<string>[] s_answers = [new(Yes, "Yes"), new("no", "No"), new("not-possible", "Not possible")];

    private DepartingSheet? _sheet;
    private ImmutableSortedDictionary<string, DepartingAnswer> _answers = ImmutableSortedDictionary<string, DepartingAnswer>.Empty;
    private ElementReference _signedTitle;
    private string _who = "";
    private string _note = "";
    private string _problem = "";
    private bool _isTried;
    private bool _isSigning;
    private bool _focusesSigned;

    [Inject]
    private IDevice Device { get; set; } = null!;

    /// <inheritdoc/>
    protected override bool NeedsRecording => false;

    private string DraftName => $"departing-{Id}";

    private string AnsweredText => string.Create(
        CultureInfo.InvariantCulture, $"{_sheet!.Items.Count(item => AnswerOf(item).Answer.Length > 0)} of {_sheet.Items.Length} answered");

    /// <inheritdoc/>
    protected override async Task FillAsync(CancellationToken cancellation)
    {
        (_problem, _isTried) = ("", false);
        _sheet = await Api.DepartingAsync(Id, cancellation);
        await RecallAsync();
    }

    /// <inheritdoc/>
    protected override async Task OnAfterRenderAsync(bool firstRender)
    {
        if (!_focusesSigned) return;
        _focusesSigned = false;
        await _signedTitle.FocusAsync();
    }

    private static string Word(string answer) => answer switch { Yes => "Yes.", "no" => "No.", _ => "Not possible." };

    private static string Mark(string answer) => answer switch { Yes => "✓", "no" => "✕", _ => "△" };

    private DepartingAnswer AnswerOf(DepartingItem item) => _answers.GetValueOrDefault(item.Key, new DepartingAnswer(item.Key, "", ""));

    // Said only once it was tried to sign: nobody is told off for what they have not come to yet.
    private bool IsWanting(DepartingItem item) => _isTried && (AnswerOf(item) is { Answer: "" } or { Answer: not Yes, Remark: "" });

    private string WantingText(DepartingItem item) => AnswerOf(item).Answer.Length == 0 ? "Answer yes, no or not possible." : "Say why, so that the desk knows.";

    private Task AnswerAsync(DepartingAnswer answer)
    {
        _answers = _answers.SetItem(answer.Key, answer with { Remark = answer.Remark.Trim() });
        return RememberAsync();
    }

    private Task NameAsync(string who)
    {
        _who = who;
        return RememberAsync();
    }

    private Task NoteAsync(string note)
    {
        _note = note;
        return RememberAsync();
    }

    private async Task SignAsync()
    {
        _isTried = true;
        _problem = "";
        var wanting = _sheet!.Items.Count(IsWanting);
        if (wanting > 0) _problem = wanting == 1 ? "One item above still wants an answer or its reason." : string.Create(CultureInfo.InvariantCulture, $"{wanting} items above still want an answer or its reason.");
        else if (_who.Trim().Length == 0) _problem = "Sign with your name.";
        if (_problem.Length > 0) return;
        _isSigning = true;
        try
        {
            _sheet = await Api.SignAsync(Id, new DepartingSign(_who.Trim(), _note.Trim(), _sheet.Sequence) { Answers = [.. _sheet.Items.Select(AnswerOf)] }, Leaving);
            (_answers, _note, _isTried, _focusesSigned) = (_answers.Clear(), "", false, true);
            await RememberAsync();
        }
        catch (SurveyApiException failure)
        {
            _problem = failure.Message;
            if (failure.IsConflict) _sheet = await Api.DepartingAsync(Id, Leaving);
        }
        catch (OperationCanceledException)
        {
            // The page was left.
        }
        finally
        {
            _isSigning = false;
        }
    }

    // A telephone that goes to sleep at the panel must not lose the answers.
    private async Task RememberAsync() => await Device.KeepAsync(
        DraftName, JsonSerializer.Serialize(new DepartingSign(_who, _note, 0) { Answers = [.. _answers.Values] }, SurveyJson.Default.DepartingSign));

    private async Task RecallAsync()
    {
        if (await Device.RecallAsync(DraftName) is not { Length: > 0 } kept) return;
        try
        {
            if (JsonSerializer.Deserialize(kept, SurveyJson.Default.DepartingSign) is not { } draft) return;
            (_who, _note) = (draft.Who, draft.Note);
            _answers = draft.Answers.Where(answer => answer.Key.Length > 0).GroupBy(answer => answer.Key, StringComparer.Ordinal)
                .ToImmutableSortedDictionary(group => group.Key, group => group.Last(), StringComparer.Ordinal);
        }
        catch (JsonException)
        {
            // Kept by another version: answered anew.
        }
    }
}
