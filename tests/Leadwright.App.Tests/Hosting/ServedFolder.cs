using System.Net;
using System.Net.Http.Headers;
using System.Net.Http.Json;
using System.Text.Json;
using System.Text.RegularExpressions;
using Leadwright.App.Hosting;
using Leadwright.Client.Surveys;
using Leadwright.Core.Circuits;
using Leadwright.Core.Panels.Weeks;
using Leadwright.Formats.Logs;

namespace Leadwright.App.Tests.Hosting;

/// <summary>The program's web host on a free port, with an empty folder of surveys.</summary>
public sealed partial class ServedFolder : IAsyncLifetime
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("leadwright-served-");
    private readonly CancellationTokenSource _ending = new();
    private Task _running = Task.CompletedTask;

    public HttpClient Http { get; private set; } = null!;

    public string Folder => Path.Combine(_folder.FullName, "surveys");

    public string Token { get; private set; } = "";

    /// <summary>A week of an invented workshop, ten minutes a row: clamp I2 faces the source throughout, lead V3 falls off on the third day.</summary>
    public static VirtualWeek Week { get; } = VirtualWeek.Make(new WeekRecipe
    {
        Service = ServiceKind.Wye,
        Nominal = NominalVoltage.TryParse("230/400", ServiceKind.Wye, out var nominal) ? nominal! : throw new InvalidOperationException(),
        Site = SiteKind.Workshop,
        Seed = 7,
        Mishaps = [new Mishap(MishapKind.ClampReversed, 0, 7 * 86400, 1), new Mishap(MishapKind.LeadOff, 2.5 * 86400, 7 * 86400, 2) { Size = 0.03, Detail = 40 }],
    });

    public async ValueTask InitializeAsync()
    {
        var output = new FirstLine();
        _running = WebHost.RunAsync(new ServeOptions { Port = 0, DataFolder = Folder }, output, _ending.Token);
        var address = AddressPattern().Match(await output.Line.Task.WaitAsync(TimeSpan.FromMinutes(2))).Value;
        Http = new HttpClient { BaseAddress = new Uri(address + "/"), Timeout = TimeSpan.FromMinutes(5) };
        Token = (await Http.GetFromJsonAsync("api/session", SurveyJson.Default.SessionCard))!.Token;
        Http.DefaultRequestHeaders.Add(SurveyApi.TokenHeader, Token);
    }

    public async ValueTask DisposeAsync()
    {
        await _ending.CancelAsync();
        try
        {
            await _running;
        }
        catch (OperationCanceledException)
        {
            // As asked.
        }

        Http.Dispose();
        _ending.Dispose();
        _folder.Delete(recursive: true);
    }

    public static async Task<byte[]> WeekCsvAsync()
    {
        using var stream = new MemoryStream();
        await LogWriter.WriteCsvAsync(Week.Log, stream, cancellation: TestContext.Current.CancellationToken);
        return stream.ToArray();
    }

    public async Task<SurveySheet> MakeAsync(string name, string service = "wye", string nominal = "230/400", int hertz = 50)
    {
        using var answer = await Http.PostAsJsonAsync(
            "api/surveys", new NewSurvey(name) { Service = service, Nominal = nominal, FrequencyHertz = hertz }, SurveyJson.Default.NewSurvey, TestContext.Current.CancellationToken);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        return (await answer.Content.ReadFromJsonAsync(SurveyJson.Default.SurveySheet, TestContext.Current.CancellationToken))!;
    }

    public async Task<WorkState> UploadAsync(string address, string name, byte[] bytes)
    {
        using var form = new MultipartFormDataContent();
        var content = new ByteArrayContent(bytes);
        content.Headers.ContentType = new MediaTypeHeaderValue("application/octet-stream");
        form.Add(content, "files", name);
        using var answer = await Http.PostAsync(address, form, TestContext.Current.CancellationToken);
        Assert.Equal(HttpStatusCode.Accepted, answer.StatusCode);
        return await DoneAsync((await answer.Content.ReadFromJsonAsync(SurveyJson.Default.WorkState, TestContext.Current.CancellationToken))!);
    }

    public async Task<WorkState> DoneAsync(WorkState work)
    {
        while (!work.IsDone)
        {
            await Task.Delay(50, TestContext.Current.CancellationToken);
            work = (await Http.GetFromJsonAsync($"api/work/{work.Id}", SurveyJson.Default.WorkState, TestContext.Current.CancellationToken))!;
        }

        return work;
    }

    /// <summary>Asks for a result until the work behind it is done.</summary>
    public async Task<JsonElement> ResultAsync(string address)
    {
        while (true)
        {
            using var answer = await Http.GetAsync(address, TestContext.Current.CancellationToken);
            if (answer.StatusCode != HttpStatusCode.Accepted)
            {
                Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
                return await answer.Content.ReadFromJsonAsync<JsonElement>(TestContext.Current.CancellationToken);
            }

            var work = await DoneAsync((await answer.Content.ReadFromJsonAsync(SurveyJson.Default.WorkState, TestContext.Current.CancellationToken))!);
            Assert.Equal("", work.Problem);
        }
    }

    public static async Task<ProblemSheet> ProblemAsync(HttpResponseMessage answer) =>
        (await answer.Content.ReadFromJsonAsync(SurveyJson.Default.ProblemSheet, TestContext.Current.CancellationToken))!;

    [GeneratedRegex(@"http://localhost:\d+")]
    private static partial Regex AddressPattern();

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
