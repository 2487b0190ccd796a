using Microsoft.JSInterop;

namespace Leadwright.Client.Devices;

/// <summary>The device as the browser shows it: local storage, clipboard, downloads.</summary>
/// <param name="script">The browser's script runtime.</param>
public sealed class BrowserDevice(IJSRuntime script) : IDevice, IAsyncDisposable
{
    private IJSObjectReference? _module;

    /// <inheritdoc/>
    public async ValueTask<string?> RecallAsync(string name) => await (await ModuleAsync()).InvokeAsync<string?>("recall", name);

    /// <inheritdoc/>
    public async ValueTask KeepAsync(string name, string text) => await (await ModuleAsync()).InvokeVoidAsync("keep", name, text);

    /// <inheritdoc/>
    public async ValueTask<bool> CopyAsync(string text) => await (await ModuleAsync()).InvokeAsync<bool>("copy", text);

    /// <inheritdoc/>
    public async ValueTask SaveFileAsync(string fileName, string text) =>
        await (await ModuleAsync()).InvokeVoidAsync("saveFile", fileName, text);

    /// <inheritdoc/>
    public async ValueTask<DeviceLanguage> LanguageAsync() =>
        await (await ModuleAsync()).InvokeAsync<string[]>("language") is [var language, var mark] ? new(language, mark) : new("en-US", ".");

    /// <inheritdoc/>
    public async ValueTask<string[]> NamesAsync(string start) => await (await ModuleAsync()).InvokeAsync<string[]>("names", start);

    /// <inheritdoc/>
    public async ValueTask<bool> TryKeepAsync(string name, string text) => await (await ModuleAsync()).InvokeAsync<bool>("keep", name, text);

    /// <inheritdoc/>
    public async ValueTask ForgetAsync(string name) => await (await ModuleAsync()).InvokeVoidAsync("forget", name);

    /// <inheritdoc/>
    public async ValueTask PrintAsync() => await (await ModuleAsync()).InvokeVoidAsync("printPage");

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        if (_module is not null) await _module.DisposeAsync();
    }

    private async ValueTask<IJSObjectReference> ModuleAsync() =>
        _module ??= await script.InvokeAsync<IJSObjectReference>("import", "./device.js");
}
