using System.Globalization;
using Leadwright.Client.Surveys;
using Microsoft.AspNetCore.Components.Forms;

namespace Leadwright.Client.Pages;

/// <summary>The hook-up of a survey: its checks as a history, what was found at the panel, photos.</summary>
public sealed partial class SurveyHookupPage : SurveyScreen
{
    private HookupsSheet? _sheet;
    private IBrowserFile? _photo;
    private string _caption = "";
    private string _photoProblem = "";
    private string _attached = "";
    private bool _isSending;
    private int _round;

    /// <inheritdoc/>
    protected override bool NeedsRecording => false;

    /// <inheritdoc/>
    protected override async Task FillAsync(CancellationToken cancellation) => _sheet = await Api.HookupsAsync(Id, cancellation);

    private static string Word(string verdict) => verdict switch { "correct" => "✓ Correct", "faulty" => "✕ Faulty", _ => "? Cannot tell" };

    private string PhotoAddress(PhotoCard photo) => string.Create(CultureInfo.InvariantCulture, $"api/surveys/{Uri.EscapeDataString(Id)}/photos/{photo.Entry}");

    private void Pick(InputFileChangeEventArgs args)
    {
        (_photo, _photoProblem, _attached) = (args.File, "", "");
        if (_photo.Size <= _sheet!.MostPhotoBytes) return;
        _photoProblem = string.Create(CultureInfo.InvariantCulture, $"'{_photo.Name}' has {_photo.Size >> 20} MB; {_sheet.MostPhotoBytes >> 20} MB are taken. Take it with fewer pixels.");
        _photo = null;
    }

    private async Task AttachAsync()
    {
        if (_photo is not { } photo) return;
        (_isSending, _photoProblem, _attached) = (true, "", "");
        try
        {
            _sheet = await Api.AttachAsync(Id, new UploadFile(photo.Name, photo.Size, () => photo.OpenReadStream(_sheet!.MostPhotoBytes)), _caption.Trim(), Leaving);
            (_attached, _photo, _caption) = ($"'{photo.Name}' is attached.", null, "");
            _round++;
        }
        catch (SurveyApiException failure)
        {
            _photoProblem = failure.Message;
        }
        catch (OperationCanceledException)
        {
            // The page was left.
        }
        finally
        {
            _isSending = false;
        }
    }
}
