using System.Diagnostics;

namespace Leadwright.Browser.Tests;

/// <summary>Finds a Chromium on this machine. Nothing is fetched from the web; a bare Debian gets its own package.</summary>
internal static class BrowserProgram
{
    private static readonly string[] s_places =
    [
        "/usr/bin/chromium", "/usr/bin/chromium-browser", "/snap/bin/chromium", "/usr/bin/google-chrome", "/usr/bin/microsoft-edge",
        "/Applications/Chromium.app/Contents/MacOS/Chromium", "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
        @"C:\Program Files\Google\Chrome\Application\chrome.exe", @"C:\Program Files (x86)\Microsoft\Edge\Application\msedge.exe",
    ];

    /// <summary>The path of the browser.</summary>
    /// <exception cref="InvalidOperationException">There is none and it can't be installed; says what to do.</exception>
    public static async Task<string> FindAsync(CancellationToken cancellation)
    {
        if (Environment.GetEnvironmentVariable("LEADWRIGHT_BROWSER") is { Length: > 0 } told)
            return File.Exists(told) ? told : throw new InvalidOperationException($"LEADWRIGHT_BROWSER names '{told}', and there is no such file.");
        if (Array.Find(s_places, File.Exists) is { } found) return found;
        if (File.Exists("/etc/debian_version") && Environment.UserName == "root")
        {
            await RunAsync("apt-get", "update -q", cancellation);
            await RunAsync("apt-get", "install -y -q --no-install-recommends chromium", cancellation);
            if (Array.Find(s_places, File.Exists) is { } installed) return installed;
        }

        throw new InvalidOperationException(
            "These tests need a Chromium. Install it ('sudo apt-get install chromium' on Debian and Ubuntu, or any Chrome or Edge), "
            + "or set LEADWRIGHT_BROWSER to the path of one.");
    }

    private static async Task RunAsync(string program, string arguments, CancellationToken cancellation)
    {
        var start = new ProcessStartInfo(program, arguments) { RedirectStandardOutput = true };
        start.Environment["DEBIAN_FRONTEND"] = "noninteractive";
        using var process = Process.Start(start)!;
        await process.StandardOutput.ReadToEndAsync(cancellation);
        await process.WaitForExitAsync(cancellation);
    }
}
