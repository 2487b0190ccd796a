namespace Leadwright.Client.Devices;

/// <summary>What the screens ask of the phone or computer they run on.</summary>
public interface IDevice
{
    /// <summary>The text kept under a name; null when there is none or the device refuses.</summary>
    ValueTask<string?> RecallAsync(string name);

    /// <summary>Keeps a text under a name, across reloads; says nothing when the device refuses.</summary>
    ValueTask KeepAsync(string name, string text);

    /// <summary>Puts a text on the clipboard.</summary>
    /// <returns>False when the device refuses.</returns>
    ValueTask<bool> CopyAsync(string text);

    /// <summary>Offers a text as a file to save.</summary>
    ValueTask SaveFileAsync(string fileName, string text);

    /// <summary>Opens the device's print dialogue for the page.</summary>
    ValueTask PrintAsync();
}
