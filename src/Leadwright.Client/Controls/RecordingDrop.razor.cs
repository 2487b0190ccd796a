using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Client.Surveys;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Forms;

namespace Leadwright.Client.Controls;

/// <summary>Where the files of a recording are dropped or picked, and how far their import is.</summary>
public sealed partial class RecordingDrop : ComponentBase, IDisposable
{
    private const int MostFiles = 16;
    private CancellationTokenSource? _stopping;
    private WorkState? _work;
    private string _problem = "";
    private SaidReading _said = new();

    /// <summary>The survey that takes the recording; empty to make one of its own for it, or to take in a survey that was packed.</summary>
    [Parameter, EditorRequired]
    public string Id { get; set; } = "";

    /// <summary>What stands above it.</summary>
    [Parameter]
    public string Title { get; set; } = "This survey has no recording yet";

    /// <summary>Told when a recording or a packed survey is there.</summary>
    [Parameter]
    public EventCallback<string> Imported { get; set; }

    [Inject]
    private ISurveyApi Api { get; set; } = null!;

    [Inject]
    private NavigationManager Navigation { get; set; } = null!;

    /// <inheritdoc/>
    public void Dispose()
    {
        _stopping?.Cancel();
        _stopping?.Dispose();
    }

    private async Task TakeAsync(InputFileChangeEventArgs args)
    {
        _problem = "";
        if (args.FileCount > MostFiles)
        {
            _problem = string.Create(CultureInfo.InvariantCulture, $"Expected the files of one recording, {MostFiles} at most; found {args.FileCount}. Import each recording by itself.");
            return;
        }

        _stopping?.Dispose();
        _stopping = new CancellationTokenSource();
        try
        {
            var most = (await Api.SessionAsync(_stopping.Token)).MostBytes;
            var picked = args.GetMultipleFiles(MostFiles);
            if (picked.FirstOrDefault(file => file.Size > most) is { } large)
            {
                _problem = string.Create(CultureInfo.InvariantCulture, $"'{large.Name}' has {large.Size >> 20} MB; {most >> 20} MB can be sent. Copy it into the survey with the command line instead.");
                return;
            }

            ImmutableArray<UploadFile> files = [.. picked.Select(file => new UploadFile(file.Name, file.Size, () => file.OpenReadStream(most)))];
            _work = new WorkState("", "Sending", -1);
            StateHasChanged();
            var made = await Api.ImportAsync(Id, files, _said, new Reporter(this), _stopping.Token);
            _work = null;
            var id = Id.Length > 0 ? Id : made;
            if (await AsksColumnsAsync(id, _stopping.Token)) Navigation.NavigateTo($"surveys/{Uri.EscapeDataString(id)}/columns");
            else await Imported.InvokeAsync(id);
        }
        catch (SurveyApiException failure)
        {
            _problem = failure.Message;
        }
        catch (OperationCanceledException)
        {
            _problem = "The import was stopped. Nothing was taken in.";
        }
        finally
        {
            _work = null;
        }
    }

    // What a column holds is settled before anything is worked out from it.
    private async Task<bool> AsksColumnsAsync(string id, CancellationToken cancellation) =>
        (await Api.OpenAsync(id, cancellation)).Recordings is [.., { AsksColumns: true }];

    private Task StopAsync() => _stopping?.CancelAsync() ?? Task.CompletedTask;

    private sealed class Reporter(RecordingDrop drop) : IProgress<WorkState>
    {
        public void Report(WorkState value) => _ = drop.InvokeAsync(() =>
        {
            if (drop._work is null) return;
            drop._work = value;
            drop.StateHasChanged();
        });
    }
}
