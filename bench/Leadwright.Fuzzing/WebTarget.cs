using System.Net.Sockets;
using System.Text;
using System.Text.RegularExpressions;
using Leadwright.App.Hosting;

namespace Leadwright.Fuzzing;

/// <summary>Requests to the program's web host, as bytes on a connection of their own.</summary>
/// <remarks>The oracle: an answer that is none of 500 and above, or the connection closed; the host answers the next one; nothing appears beside its folder.</remarks>
internal sealed partial class WebTarget : FuzzTarget
{
    private readonly string _place = FuzzPlace.Make();
    private readonly CancellationTokenSource _ending = new();
    private readonly Task _running;
    private readonly int _port;
    private readonly byte[][] _seeds;

    public WebTarget()
    {
        var output = new FirstLine();
        _running = WebHost.RunAsync(new ServeOptions { Port = 0, DataFolder = Path.Combine(_place, "surveys") }, output, _ending.Token);
        _port = int.Parse(Port().Match(output.Line.Task.GetAwaiter().GetResult()).Groups[1].Value, System.Globalization.CultureInfo.InvariantCulture);
        using var http = new HttpClient { BaseAddress = new Uri($"http://localhost:{_port}/") };
        var session = http.GetStringAsync("api/session").GetAwaiter().GetResult();
        var token = Token().Match(session).Groups[1].Value;
        var header = $"X-Leadwright-Token: {token}\r\n";
        string[] paths =
        [
            "/", "/api/session", "/api/surveys", "/api/surveys/none", "/api/surveys/x/journal", "/api/surveys/x/columns?names=V1&from=0&to=1e9&width=1000", "/api/surveys/x/study/demand.svg", "/api/work/none", "/api/surveys/x/vectors?at=1", "/api/surveys/x/match?recording=week",
            "/../../etc/passwd", "/api/surveys/..%2F..%2Fetc", "/_framework/x",
        ];
        _seeds =
        [
            .. paths.Select(path => Encoding.Latin1.GetBytes($"GET {path} HTTP/1.1\r\nHost: localhost:{_port}\r\n{header}Connection: close\r\n\r\n")),
            Post("/api/surveys", "application/json", "{\"name\":\"board\",\"service\":\"wye\",\"nominal\":\"230/400\",\"frequencyHertz\":50}"),
            Post("/api/surveys/x/corrections?recording=week", "application/json", "{\"id\":\"c1\",\"isOn\":false,\"why\":\"w\"}"),
            Post("/api/surveys/x/match?recording=week", "application/json", "{\"sequence\":3,\"columns\":[{\"column\":\"2\",\"quantity\":\"voltage\",\"place\":\"1\",\"statistic\":\"mean\",\"unit\":\"V\"}],\"stamps\":\"end\"}"),
            Post("/api/surveys/recordings", "multipart/form-data; boundary=b", "--b\r\nContent-Disposition: form-data; name=\"files\"; filename=\"../../week.csv\"\r\n\r\ntime;V1 (V)\n2026-03-02 10:00;230\n2026-03-02 10:15;231\n\r\n--b--\r\n"),
            Post("/api/surveys/packed", "multipart/form-data; boundary=b", "--b\r\nContent-Disposition: form-data; name=\"files\"; filename=\"x.zip\"\r\n\r\nPK\r\n--b--\r\n"),
        ];

        byte[] Post(string path, string type, string body) => Encoding.Latin1.GetBytes(
            $"POST {path} HTTP/1.1\r\nHost: localhost:{_port}\r\n{header}Content-Type: {type}\r\nContent-Length: {body.Length}\r\nConnection: close\r\n\r\n{body}");
    }

    public override string Name => "web";

    public override byte[] Make(Random chance)
    {
        var seed = _seeds[chance.Next(_seeds.Length)];
        // Mostly with its length told right, so that the body is read.
        var bytes = chance.Next(10) == 0 ? Mutation.OfBytes(seed, _seeds, chance) : Mutation.OfText(seed, _seeds, chance);
        if (chance.Next(3) == 0) return bytes;
        var text = Encoding.Latin1.GetString(bytes);
        var end = text.IndexOf("\r\n\r\n", StringComparison.Ordinal);
        return end < 0 ? bytes : Encoding.Latin1.GetBytes(Length().Replace(text[..end], $"Content-Length: {text.Length - end - 4}") + text[end..]);
    }

    public override bool Read(byte[] input)
    {
        using var client = new TcpClient();
        client.Connect("localhost", _port);
        client.ReceiveTimeout = client.SendTimeout = 15_000;
        using var stream = client.GetStream();
        var answer = new byte[4096];
        var count = 0;
        try
        {
            stream.Write(input);
            // What is cut short would be waited for: say that nothing more comes.
            client.Client.Shutdown(SocketShutdown.Send);
            for (int read; count < answer.Length && (read = stream.Read(answer, count, answer.Length - count)) > 0; count += read) { }
        }
        catch (IOException failure) when (failure.InnerException is SocketException { SocketErrorCode: SocketError.TimedOut })
        {
            throw new FuzzFailureException("no answer within 15 s", failure);
        }
        catch (Exception failure) when (failure is IOException or SocketException)
        {
            // Closed by the host.
        }

        if (_running.IsCompleted) throw new FuzzFailureException("the host ended", _running.Exception);
        var status = Status().Match(Encoding.Latin1.GetString(answer, 0, count));
        // Another version of HTTP is refused by a number of its own.
        if (status.Success && status.Groups[1].Value[0] == '5' && status.Groups[1].Value != "505") throw new FuzzFailureException($"answered {status.Groups[1].Value}: {Encoding.Latin1.GetString(answer, 0, Math.Min(count, 800))}");
        if (Directory.EnumerateFileSystemEntries(_place).Any(entry => Path.GetFileName(entry) != "surveys")) throw new FuzzFailureException("something appeared beside the folder of surveys");
        return status.Success && status.Groups[1].Value[0] == '2';
    }

    protected override void Dispose(bool disposing)
    {
        _ending.Cancel();
        try
        {
            _running.GetAwaiter().GetResult();
        }
        catch (OperationCanceledException)
        {
            // As asked.
        }

        _ending.Dispose();
        if (Directory.Exists(_place)) Directory.Delete(_place, recursive: true);
        base.Dispose(disposing);
    }

    [GeneratedRegex(@"http://localhost:(\d+)")]
    private static partial Regex Port();

    [GeneratedRegex("\"token\"\\s*:\\s*\"([^\"]+)\"", RegexOptions.IgnoreCase)]
    private static partial Regex Token();

    [GeneratedRegex(@"Content-Length: *[^\r\n]*", RegexOptions.IgnoreCase)]
    private static partial Regex Length();

    [GeneratedRegex(@"\AHTTP/1\.[01] (\d{3})")]
    private static partial Regex Status();

    private sealed class FirstLine : StringWriter
    {
        public TaskCompletionSource<string> Line { get; } = new(TaskCreationOptions.RunContinuationsAsynchronously);

        public override Task WriteLineAsync(ReadOnlyMemory<char> buffer, CancellationToken cancellationToken = default)
        {
            Line.TrySetResult(buffer.ToString());
            return Task.CompletedTask;
        }
    }
}
