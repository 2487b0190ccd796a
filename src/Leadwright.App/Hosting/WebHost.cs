using System.Globalization;
using System.Net;
using System.Net.Sockets;
using System.Text;
using Leadwright.App.Hosting.Lan;
using Leadwright.App.Hosting.Surveys;
using Leadwright.Surveys;
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
        // Texts of recorders are in code pages of their countries.
        Encoding.RegisterProvider(CodePagesEncodingProvider.Instance);
        MakeDataFolder(options);
        var surveys = new ServedSurveys(options.DataFolder ?? DefaultDataFolder(), SurveyAuthor.OfAccount());
        if (options.Demo) await MakeDemoAsync(surveys, cancellation);
        await using var app = Build(options, surveys);
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
        await output.WriteLineAsync($"Surveys are kept in {surveys.Folder} (name another folder with --data).".AsMemory(), cancellation);
        if (options.Demo)
        {
            await output.WriteLineAsync($"An invented survey to try: http://localhost:{port}/surveys/{DemoSurvey.Id}/guard".AsMemory(), cancellation);
            await output.WriteLineAsync($"Invented panels to try: http://localhost:{port}/hook-up?demo".AsMemory(), cancellation);
        }

        if (options.Lan) await output.WriteAsync(LanText(app.Services.GetRequiredService<PairingCode>(), port).AsMemory(), cancellation);
        await output.FlushAsync(cancellation);
        await app.WaitForShutdownAsync(cancellation);
    }

    /// <summary>Where surveys are kept when no folder is named: <c>Leadwright</c> among the person's documents, or beside what programs keep where there is no such place.</summary>
    public static string DefaultDataFolder()
    {
        var documents = Environment.GetFolderPath(Environment.SpecialFolder.MyDocuments);
        var place = documents.Length > 0 && Directory.Exists(documents) ? documents : Environment.GetFolderPath(Environment.SpecialFolder.LocalApplicationData, Environment.SpecialFolderOption.DoNotVerify);
        return Path.Combine(place.Length > 0 ? place : Path.GetTempPath(), "Leadwright");
    }

    private static async Task MakeDemoAsync(ServedSurveys surveys, CancellationToken cancellation)
    {
        try
        {
            await DemoSurvey.MakeAsync(surveys, cancellation);
        }
        catch (Exception failure) when (failure is SurveyException or IOException or UnauthorizedAccessException)
        {
            throw new HostStartException($"Cannot make the invented survey in '{surveys.Folder}': {failure.Message} Name another folder with --data.", failure);
        }
    }

    private static WebApplication Build(ServeOptions options, ServedSurveys surveys)
    {
        // The files of the screens stand beside the program, whatever folder it is started from.
        var builder = WebApplication.CreateBuilder(new WebApplicationOptions
        {
            ApplicationName = typeof(WebHost).Assembly.GetName().Name,
            ContentRootPath = AppContext.BaseDirectory,
        });
        builder.WebHost.UseStaticWebAssets();
        builder.Logging.ClearProviders();
        // Why it did not start is said by the verb, in words and once.
        builder.Logging.AddSimpleConsole().SetMinimumLevel(LogLevel.Warning).AddFilter("Microsoft.Extensions.Hosting", LogLevel.None);
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
        // The files of the screens are a branch of their own that ends there: an endpoint chosen before, such as "method not allowed", would fail in it.
        app.Use((context, next) =>
        {
            if (context.Request.Path.StartsWithSegments("/_framework")) context.SetEndpoint(null);
            return next(context);
        });
        app.UseBlazorFrameworkFiles();
        app.UseStaticFiles(new StaticFileOptions
        {
            // A rebuilt program must not meet the files of the one before it.
            OnPrepareResponse = context => context.Context.Response.Headers.CacheControl = "no-cache",
        });

        app.MapSurveys(surveys, new ChangeProtection());

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
