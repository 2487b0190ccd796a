using System.Globalization;
using System.Net;
using System.Net.Sockets;
using Leadwright.App.Hosting.Lan;
using Microsoft.AspNetCore.Connections;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;

namespace Leadwright.App.Hosting;

/// <summary>The local web host that serves the screens.</summary>
public static class WebHost
{
    private const string LanCaution =
        "What goes over the network is not encrypted: use it on a network of your own only. Over plain http a phone can't keep the screens for offline use.";

    /// <summary>Serves the screens until cancelled.</summary>
    /// <param name="options">Port, folder and reach.</param>
    /// <param name="output">Receives the address, once the host answers, and the cautions.</param>
    /// <param name="cancellation">Ends the host.</param>
    /// <exception cref="HostStartException">The port is taken or the folder can't be made.</exception>
    public static async Task RunAsync(ServeOptions options, TextWriter output, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(options);
        ArgumentNullException.ThrowIfNull(output);
        MakeDataFolder(options);
        await using var app = Build(options);
        try
        {
            await app.StartAsync(cancellation);
        }
        catch (IOException error) when (error.InnerException is AddressInUseException or SocketException)
        {
            throw PortTaken(options, error);
        }
        catch (SocketException error)
        {
            throw PortTaken(options, error);
        }

        var port = PortOf(app);
        await output.WriteLineAsync($"Leadwright is at http://localhost:{port} (Ctrl+C ends it).".AsMemory(), cancellation);
        if (options.Demo)
            await output.WriteLineAsync($"Invented panels to try: http://localhost:{port}/hook-up?demo".AsMemory(), cancellation);
        if (options.Lan) await output.WriteAsync(LanText(app.Services.GetRequiredService<PairingCode>(), port).AsMemory(), cancellation);
        await output.FlushAsync(cancellation);
        await app.WaitForShutdownAsync(cancellation);
    }

    private static WebApplication Build(ServeOptions options)
    {
        // The files of the screens stand beside the program, whatever folder it is started from.
        var builder = WebApplication.CreateBuilder(new WebApplicationOptions
        {
            ApplicationName = typeof(WebHost).Assembly.GetName().Name,
            ContentRootPath = AppContext.BaseDirectory,
        });
        builder.WebHost.UseStaticWebAssets();
        builder.Logging.ClearProviders();
        builder.Logging.AddSimpleConsole().SetMinimumLevel(LogLevel.Warning);
        builder.WebHost.ConfigureKestrel(kestrel =>
        {
            kestrel.AddServerHeader = false;
            if (options.Lan) kestrel.ListenAnyIP(options.Port);
            else if (options.Port == 0) kestrel.Listen(IPAddress.Loopback, 0);
            else kestrel.ListenLocalhost(options.Port);
        });

        builder.Services.AddSingleton(TimeProvider.System).AddSingleton<PairingCode>().AddSingleton<PairedDevices>().AddSingleton<PairingGate>();

        var app = builder.Build();
        app.UseSecurityHeaders();
        var gate = app.Services.GetRequiredService<PairingGate>();
        app.Use(gate.HandleAsync);
        app.UseBlazorFrameworkFiles();
        app.UseStaticFiles(new StaticFileOptions
        {
            // A rebuilt program must not meet the files of the one before it.
            OnPrepareResponse = context => context.Context.Response.Headers.CacheControl = "no-cache",
        });

        // Without this the page would answer calls that do not exist.
        app.Map("/api/{**rest}", () => Results.NotFound());
        app.MapFallbackToFile("index.html");
        return app;
    }

    private static string LanText(PairingCode code, int port)
    {
        var addresses = LanAddresses.Find();
        if (addresses.Count == 0) return "This computer is on no network that another device could reach it on." + Environment.NewLine;
        var address = string.Create(CultureInfo.InvariantCulture, $"http://{addresses[0]}:{port}");
        return string.Join(
            Environment.NewLine,
            $"Other devices: {address}, code {code.Text[..4]} {code.Text[4..]} (also on http://localhost:{port}{PairingGate.Path}).",
            LanCaution,
            QrDrawing.Terminal($"{address}{PairingGate.Path}?code={code.Text}"));
    }

    private static void MakeDataFolder(ServeOptions options)
    {
        if (options.DataFolder is not { } folder) return;
        try
        {
            Directory.CreateDirectory(folder);
        }
        catch (Exception error) when (error is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            throw new HostStartException($"Cannot make the folder '{folder}' for the data: {error.Message} Name another with --data.", error);
        }
    }

    private static HostStartException PortTaken(ServeOptions options, Exception error) => new(
        string.Create(CultureInfo.InvariantCulture, $"Cannot serve on port {options.Port}: {error.Message} ")
        + "Another program may use it: name another with --port, such as --port 5481.", error);

    private static int PortOf(WebApplication app) => app.Services.GetRequiredService<IServer>()
        .Features.Get<IServerAddressesFeature>()!.Addresses.Select(address => BindingAddress.Parse(address).Port).First();
}
