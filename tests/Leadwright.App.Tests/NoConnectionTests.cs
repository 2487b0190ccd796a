using System.Collections.Concurrent;
using System.Diagnostics;
using System.Diagnostics.Tracing;
using System.Net;
using Leadwright.App.Tests.Hosting;
using Leadwright.App.Tests.Verbs;
using Leadwright.App.Verbs;

namespace Leadwright.App.Tests;

/// <summary>Neither a verb nor the host ever opens a connection to another computer, or asks for a name. The one exception is <c>guard --hook</c>, which a
/// person asks for.</summary>
/// <remarks>By itself: other tests call this computer by its address on the network, which the ear can't tell from elsewhere.</remarks>
[Collection(nameof(TestsByThemselves))]
public sealed class NoConnectionTests(ServedFolder served) : IClassFixture<ServedFolder>, IDisposable
{
    private static readonly string s_week = TestFolder.Data("../../data/surveys/schema-1/originals/week/week.csv");
    private static readonly string s_readings = TestFolder.Data("../../../docs/examples/readings.json");
    private static readonly string s_record = TestFolder.Data("../../data/comtrade/relay-a/1.cfg");

    private readonly string _place = Directory.CreateTempSubdirectory("leadwright-alone-").FullName;

    public void Dispose() => Directory.Delete(_place, recursive: true);

    private IEnumerable<string[]> Verbs =>
    [
        ["check", s_readings], ["check", s_record], ["guard", s_week], ["guard", s_record, "--frequency", "50"], ["mend", s_week, "-o", Path.Combine(_place, "mended.csv")],
        ["study", s_week, "--nominal", "230/400", "--limits", "en-50160"], ["plan", "--service", "wye", "--nominal", "230/400"], ["survey", "new", Path.Combine(_place, "board")],
        ["survey", "add", Path.Combine(_place, "board"), s_week], ["survey", "show", Path.Combine(_place, "board")], ["survey", "copy", Path.Combine(_place, "board"), Path.Combine(_place, "board.zip")],
        ["report", Path.Combine(_place, "board"), "-o", Path.Combine(_place, "report.html")], ["practice", "--help"], ["--version"],
    ];

    [Fact]
    public async Task Every_verb_and_page_stays_on_this_computer()
    {
        using var ear = new Ear();
        foreach (var words in Verbs)
        {
            using var output = new StringWriter();
            using var error = new StringWriter();
            Assert.NotEqual(2, await LeadwrightCommand.RunAsync(words, output, error, TestContext.Current.CancellationToken));
        }

        foreach (var page in (string[])["", "api/session", "api/surveys", "surveys", "hook-up", "practice"])
        {
            using var answer = await served.Http.GetAsync(page, TestContext.Current.CancellationToken);
            Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        }

        // Tests beside this one talk to hosts on this computer; nobody talks to another.
        Assert.Empty(Ear.Outside);
    }

    [Fact]
    public async Task The_ear_hears_a_connection_to_elsewhere()
    {
        using var ear = new Ear();
        using var socket = new System.Net.Sockets.Socket(System.Net.Sockets.AddressFamily.InterNetwork, System.Net.Sockets.SocketType.Stream, System.Net.Sockets.ProtocolType.Tcp);
        using var soon = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
        soon.CancelAfter(300);
        try
        {
            // An address of TEST-NET-1 (RFC 5737), which belongs to nobody.
            await socket.ConnectAsync(IPAddress.Parse("192.0.2.1"), 9, soon.Token);
        }
        catch (Exception failure) when (failure is OperationCanceledException or System.Net.Sockets.SocketException)
        {
            // As is to be expected.
        }

        Assert.Contains(Ear.Outside, said => said.Contains("192.0.2.1", StringComparison.Ordinal) || said.Contains("192,0,2,1", StringComparison.Ordinal));
        Ear.Forget();
    }

    /// <summary>In a name space without any network, the verbs do what they do.</summary>
    [Fact]
    public async Task Verbs_work_where_there_is_no_network_at_all()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux(), "Takes the network away as Linux does.");
        Assert.SkipUnless(await StartAsync("-rn", "true") == 0, "This system does not let a test take its network away.");
        foreach (var words in (string[][])[["check", s_readings], ["guard", s_week], ["study", s_week], ["--version"]])
        {
            using var output = new StringWriter();
            var code = await LeadwrightCommand.RunAsync(words, output, output, TestContext.Current.CancellationToken);
            Assert.Equal(code, await StartAsync(["-rn", "dotnet", Path.Combine(AppContext.BaseDirectory, "leadwright.dll"), .. words]));
        }
    }

    private static async Task<int> StartAsync(params string[] words)
    {
        var start = new ProcessStartInfo("unshare") { RedirectStandardOutput = true, RedirectStandardError = true, UseShellExecute = false };
        foreach (var word in words) start.ArgumentList.Add(word);
        using var process = Process.Start(start)!;
        _ = process.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken);
        _ = process.StandardError.ReadToEndAsync(TestContext.Current.CancellationToken);
        await process.WaitForExitAsync(TestContext.Current.CancellationToken);
        return process.ExitCode;
    }

    // Hears every connection that this process opens, and every name that it asks for.
    private sealed class Ear : EventListener
    {
        private static readonly ConcurrentQueue<string> s_outside = new();

        public static IReadOnlyCollection<string> Outside => s_outside;

        public static void Forget() => s_outside.Clear();

        protected override void OnEventSourceCreated(EventSource eventSource)
        {
            if (eventSource.Name is "System.Net.Sockets" or "System.Net.NameResolution") EnableEvents(eventSource, EventLevel.Verbose);
        }

        protected override void OnEventWritten(EventWrittenEventArgs eventData)
        {
            if (eventData.EventName is not ("ConnectStart" or "ResolutionStart") || eventData.Payload is not [var first, ..]) return;
            var what = first?.ToString() ?? "";
            if (what.Contains("localhost", StringComparison.OrdinalIgnoreCase) || what.Contains("127.0.0.1", StringComparison.Ordinal) || IsLoopback(what)) return;
            s_outside.Enqueue($"{eventData.EventName} {what}");
        }

        // Addresses come as the family, its length, and the bytes in braces.
        private static bool IsLoopback(string what)
        {
            var open = what.IndexOf('{', StringComparison.Ordinal);
            if (open < 0) return false;
            var bytes = what[(open + 1)..].TrimEnd('}').Split(',', StringSplitOptions.TrimEntries);
            // IPv4: port, then the address. IPv6: port, flow, then the sixteen bytes of ::1, or of 127.0.0.1 within.
            if (what.StartsWith("InterNetworkV6", StringComparison.Ordinal)) return bytes.Length >= 22 && (string.Join(',', bytes[6..22]).EndsWith("0,0,0,1", StringComparison.Ordinal) && bytes[6..16].All(one => one == "0"));
            return bytes.Length > 2 && bytes[2] == "127";
        }
    }
}
