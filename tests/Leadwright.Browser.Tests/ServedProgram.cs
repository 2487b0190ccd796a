using System.Diagnostics;
using System.Runtime.CompilerServices;
using System.Text.RegularExpressions;

namespace Leadwright.Browser.Tests;

/// <summary>The program as it was built, serving on a free port.</summary>
internal sealed partial class ServedProgram : IAsyncDisposable
{
    private readonly Process _process;

    private ServedProgram(Process process, Uri address) => (_process, Address) = (process, address);

    /// <summary>The address that it printed.</summary>
    public Uri Address { get; }

    /// <summary>Starts it and waits until it answers.</summary>
    public static Task<ServedProgram> StartAsync(CancellationToken cancellation, params string[] options) => StartAtAsync(0, cancellation, options);

    /// <summary>Starts it at a port and waits until it answers.</summary>
    public static async Task<ServedProgram> StartAtAsync(int port, CancellationToken cancellation, params string[] options)
    {
        // From a folder of its own, as a person would start it: the screens must be found beside the program.
        var start = new ProcessStartInfo("dotnet", ["exec", ProgramPath(), "serve", "--port", port.ToString(System.Globalization.CultureInfo.InvariantCulture), .. options])
        {
            RedirectStandardOutput = true,
            WorkingDirectory = Path.GetTempPath(),
        };
        start.Environment["ASPNETCORE_ENVIRONMENT"] = "Production";
        // It is killed at the end: else the runtime leaves its sockets for debuggers among the temporary files of everybody.
        start.Environment["DOTNET_EnableDiagnostics"] = "0";
        var process = Process.Start(start)!;
        while (await process.StandardOutput.ReadLineAsync(cancellation) is { } line)
        {
            if (AddressPattern().Match(line) is { Success: true } match) return new(process, new Uri(match.Value));
        }

        throw new InvalidOperationException($"The program ended with {process.ExitCode} before it printed its address.");
    }

    /// <summary>Runs a verb of the program to its end.</summary>
    /// <param name="arguments">The verb with its options.</param>
    public static async Task RunAsync(params string[] arguments)
    {
        using var process = Process.Start(new ProcessStartInfo("dotnet", ["exec", ProgramPath(), .. arguments]) { RedirectStandardOutput = true, RedirectStandardError = true })!;
        var error = await process.StandardError.ReadToEndAsync(CancellationToken.None);
        await process.WaitForExitAsync(CancellationToken.None);
        if (process.ExitCode is 1 or 2) throw new InvalidOperationException(error);
    }

    /// <summary>Ends it, as when the van with the laptop drives off.</summary>
    public async Task StopAsync()
    {
        if (_process.HasExited) return;
        _process.Kill(entireProcessTree: true);
        await _process.WaitForExitAsync();
    }

    public async ValueTask DisposeAsync()
    {
        await StopAsync();
        _process.Dispose();
    }

    /// <summary>Whether a published build is served: the variable names its <c>leadwright.dll</c>.</summary>
    public static bool IsPublished => Environment.GetEnvironmentVariable("LEADWRIGHT_PUBLISHED") is { Length: > 0 };

    private static string ProgramPath([CallerFilePath] string here = "")
    {
        if (IsPublished) return Path.GetFullPath(Environment.GetEnvironmentVariable("LEADWRIGHT_PUBLISHED")!);
        var root = Path.GetFullPath(Path.Combine(Path.GetDirectoryName(here)!, "..", ".."));
        var form = Path.GetFileName(AppContext.BaseDirectory.TrimEnd(Path.DirectorySeparatorChar));
        return Path.Combine(root, "artifacts", "bin", "Leadwright.App", form, "leadwright.dll");
    }

    [GeneratedRegex(@"http://localhost:\d+")]
    private static partial Regex AddressPattern();
}
