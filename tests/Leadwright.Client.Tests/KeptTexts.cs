using Leadwright.Client.Devices;

namespace Leadwright.Client.Tests;

/// <summary>A device that only remembers.</summary>
internal sealed class KeptTexts : IDevice
{
    public Dictionary<string, string> Kept { get; } = [];

    public List<string> Copied { get; } = [];

    public Dictionary<string, string> Saved { get; } = [];

    public ValueTask<string?> RecallAsync(string name) => ValueTask.FromResult(Kept.GetValueOrDefault(name));

    public ValueTask KeepAsync(string name, string text)
    {
        Kept[name] = text;
        return ValueTask.CompletedTask;
    }

    public ValueTask<bool> CopyAsync(string text)
    {
        Copied.Add(text);
        return ValueTask.FromResult(true);
    }

    public ValueTask SaveFileAsync(string fileName, string text)
    {
        Saved[fileName] = text;
        return ValueTask.CompletedTask;
    }

    public DeviceLanguage Language { get; set; } = new("en-GB", ".");

    public bool IsFull { get; set; }

    public ValueTask<DeviceLanguage> LanguageAsync() => ValueTask.FromResult(Language);

    public ValueTask<string[]> NamesAsync(string start) => ValueTask.FromResult(Kept.Keys.Where(name => name.StartsWith(start, StringComparison.Ordinal)).Order(StringComparer.Ordinal).ToArray());

    public ValueTask<bool> TryKeepAsync(string name, string text)
    {
        if (!IsFull) Kept[name] = text;
        return ValueTask.FromResult(!IsFull);
    }

    public ValueTask ForgetAsync(string name)
    {
        Kept.Remove(name);
        return ValueTask.CompletedTask;
    }

    public int Printed { get; private set; }

    public ValueTask PrintAsync()
    {
        Printed++;
        return ValueTask.CompletedTask;
    }
}
