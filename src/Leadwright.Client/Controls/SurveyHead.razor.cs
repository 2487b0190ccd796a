using System.Globalization;
using Leadwright.Client.Model;
using Leadwright.Client.Surveys;
using Microsoft.AspNetCore.Components;

namespace Leadwright.Client.Controls;

/// <summary>The head of a survey's screens.</summary>
public sealed partial class SurveyHead : ComponentBase
{
    private static readonly (string Word, string Name)[] s_screens =
        [("hook-up", "Hook-up"), ("departing", "Departing"), ("guard", "Guard"), ("mend", "Mend"), ("study", "Study"), ("report", "Report")];

    /// <summary>The survey's name in the address.</summary>
    [Parameter, EditorRequired]
    public string Id { get; set; } = "";

    /// <summary>The screen that is shown, as in the address.</summary>
    [Parameter, EditorRequired]
    public string Screen { get; set; } = "";

    /// <summary>The survey; null until it is known.</summary>
    [Parameter]
    public SurveySheet? Sheet { get; set; }

    /// <summary>The recording that is looked at; empty for the last.</summary>
    [Parameter]
    public string Recording { get; set; } = "";

    [Inject]
    private NavigationManager Navigation { get; set; } = null!;

    private RecordingCard? Looked => Sheet?.Recordings.LastOrDefault(recording => Recording.Length == 0 || recording.Name == Recording);

    private string Address(string screen, string? recording = null)
    {
        var name = recording ?? Recording;
        return $"surveys/{Uri.EscapeDataString(Id)}/{screen}{(name.Length > 0 && Sheet is { Recordings.Length: > 1 } ? $"?recording={Uri.EscapeDataString(name)}" : "")}";
    }

    private static string Departed(DepartingSigned signed) => string.Create(
        CultureInfo.InvariantCulture,
        $"Check before leaving: signed by {signed.Who}, {signed.At.ToLocalTime():d MMM yyyy HH:mm}, {(signed.OpenCount == 0 ? "all in order" : $"{signed.OpenCount} of {signed.Answers.Length} not in order or not possible")}");

    private static string ServiceText(string word)
    {
        if (Core.Hookups.Service.Named(word) is not { } service) return "";
        var choice = ServiceChoice.Of(service.Kind);
        return choice.Title;
    }
}
