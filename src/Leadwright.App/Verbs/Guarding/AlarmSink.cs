using System.Buffers;
using System.Net.Http.Headers;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using Leadwright.Core.Integrity;
using Leadwright.Reports.Guarding;

namespace Leadwright.App.Verbs.Guarding;

/// <summary>Where alarms go: a line on standard output, and a web hook where one was named.</summary>
internal sealed class AlarmSink(GuardRequest request, TextWriter output, TextWriter error) : IAlarms, IDisposable
{
    private const string Schema = "leadwright.alarm/1";
    private static readonly JsonWriterOptions s_options = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };
    private static readonly MediaTypeHeaderValue s_json = new("application/json") { CharSet = "utf-8" };

    private readonly HttpClient? _client = request.Hook is null ? null : new HttpClient { Timeout = TimeSpan.FromSeconds(10) };

    /// <inheritdoc/>
    public int Raised { get; private set; }

    /// <inheritdoc/>
    public async Task TellAsync(string file, GuardNews news, CancellationToken cancellation)
    {
        Raised += news.Raised.Length;
        foreach (var span in news.Raised) await TellAsync($"ALARM  {GuardJson.Time(span.From)}  {Says(span)}", Json(file, "raised", span), cancellation);
        foreach (var alarm in news.Renamed)
            await TellAsync($"renamed  {GuardJson.Time(alarm.Now.From)}  was {Name(alarm.Before)}, is {Says(alarm.Now)}", Json(file, "renamed", alarm.Now, alarm.Before), cancellation);
        foreach (var span in news.Cleared) await TellAsync($"cleared  {Times(span)}  {Says(span)}", Json(file, "cleared", span), cancellation);
        foreach (var span in news.Withdrawn)
            await TellAsync($"withdrawn  {Times(span)}  {Name(span)}: the rows since do not bear it out, and none shows a cure.", Json(file, "withdrawn", span), cancellation);
    }

    /// <inheritdoc/>
    public Task NoteAsync(string text) => error.WriteLineAsync(text);

    public void Dispose() => _client?.Dispose();

    private static string Says(GuardSpan span) => $"{GuardWords.Of(span.Kind)}: {SpanWording.Of(span)}";

    private static string Name(GuardSpan span) => string.Join(' ', [GuardWords.Of(span.Kind), .. span.Leads.Select(lead => lead.ToString()), .. span.Clamps.Select(clamp => clamp.ToString())]);

    private static string Times(GuardSpan span) => $"{GuardJson.Time(span.From)} to {GuardJson.Time(span.To)}";

    private async Task TellAsync(string text, string json, CancellationToken cancellation)
    {
        await output.WriteLineAsync(request.IsJson ? json : text);
        await output.FlushAsync(cancellation);
        if (_client is null) return;
        try
        {
            using var content = new ByteArrayContent(Encoding.UTF8.GetBytes(json));
            content.Headers.ContentType = s_json;
            using var answer = await _client.PostAsync(request.Hook, content, cancellation);
            if (!answer.IsSuccessStatusCode) await NoteAsync($"--hook: {request.Hook} answered {(int)answer.StatusCode}. The alarm stands above.");
        }
        catch (Exception failure) when (failure is HttpRequestException || (failure is TaskCanceledException && !cancellation.IsCancellationRequested))
        {
            // The watch must outlive a hook that is down.
            await NoteAsync($"--hook: {request.Hook} can't be reached: {failure.Message} The alarm stands above.");
        }
    }

    private static string Json(string file, string state, GuardSpan span, GuardSpan? before = null)
    {
        var buffer = new ArrayBufferWriter<byte>(1024);
        using (var writer = new Utf8JsonWriter(buffer, s_options))
        {
            writer.WriteStartObject();
            writer.WriteString("schema", Schema);
            writer.WriteString("file", file);
            writer.WriteString("state", state);
            writer.WritePropertyName("span");
            GuardJson.Write(span, writer);
            if (before is not null)
            {
                writer.WritePropertyName("was");
                GuardJson.Write(before, writer);
            }

            writer.WriteEndObject();
        }

        return Encoding.UTF8.GetString(buffer.WrittenSpan);
    }
}
