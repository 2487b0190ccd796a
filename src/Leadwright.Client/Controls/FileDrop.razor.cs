using System.Collections.Immutable;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Forms;

namespace Leadwright.Client.Controls;

/// <summary>Where files are dropped or picked. They are read on the device.</summary>
public sealed partial class FileDrop : ComponentBase
{
    private const int MostFiles = 8;
    private const long MostBytes = 200L << 20;
    private string _tooLarge = "";

    /// <summary>Told with the files, read whole.</summary>
    [Parameter]
    public EventCallback<ImmutableArray<Formats.InputFile>> Chosen { get; set; }

    /// <summary>Why the last files can't be used; empty when they can.</summary>
    [Parameter]
    public string Problem { get; set; } = "";

    /// <summary>True while files are being read.</summary>
    [Parameter]
    public bool IsBusy { get; set; }

    private async Task Read(InputFileChangeEventArgs args)
    {
        _tooLarge = "";
        if (args.FileCount > MostFiles)
        {
            _tooLarge = $"Expected one recording, at most {MostFiles} files; found {args.FileCount}. Choose the files of one recording.";
            return;
        }

        var files = ImmutableArray.CreateBuilder<Formats.InputFile>();
        foreach (var file in args.GetMultipleFiles(MostFiles))
        {
            if (file.Size > MostBytes)
            {
                _tooLarge = $"'{file.Name}' has {file.Size >> 20} MB; a browser can take {MostBytes >> 20} MB. A snapshot of seconds is enough.";
                return;
            }

            await using var stream = file.OpenReadStream(MostBytes);
            files.Add(await Formats.InputFile.FromStreamAsync(file.Name, stream, CancellationToken.None));
        }

        await Chosen.InvokeAsync(files.ToImmutable());
    }
}
