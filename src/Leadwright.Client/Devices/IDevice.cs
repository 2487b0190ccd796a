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

    /// <summary>The language of the person at the device, with its region, and the decimal mark that goes with it.</summary>
    ValueTask<DeviceLanguage> LanguageAsync();

    /// <summary>The names under which texts are kept that begin so.</summary>
    /// <param name="start">How they begin.</param>
    ValueTask<string[]> NamesAsync(string start);

    /// <summary>Keeps a text under a name, and says whether it is kept.</summary>
    /// <returns>False when the device refuses.</returns>
    ValueTask<bool> TryKeepAsync(string name, string text);

    /// <summary>Forgets the text kept under a name.</summary>
    ValueTask ForgetAsync(string name);

    /// <summary>Opens the device's print dialogue for the page.</summary>
    ValueTask PrintAsync();
}

/// <summary>What a device says of its language.</summary>
/// <param name="Language">Language and region, as <c>de-CH</c>.</param>
/// <param name="DecimalMark">The decimal mark.</param>
public sealed record DeviceLanguage(string Language, string DecimalMark);
