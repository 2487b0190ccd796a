using System.Collections.Immutable;
using System.Globalization;
using System.Net;
using System.Net.Http.Json;
using System.Text.Json;
using System.Text.Json.Serialization.Metadata;
using Leadwright.Client.Model.Charts;

namespace Leadwright.Client.Surveys;

/// <summary>Asks the running program over HTTP.</summary>
/// <param name="http">With the program's address as its base.</param>
/// <param name="clock">Paces the questions for work in progress.</param>
public sealed class SurveyApi(HttpClient http, TimeProvider clock) : ISurveyApi
{
    /// <summary>The header that every change is sent with.</summary>
    public const string TokenHeader = "X-Leadwright-Token";

    private const string Away = "The program does not answer. Look whether it still runs on the computer that has the surveys; the hook-up check works without it.";
    private static readonly TimeSpan s_pause = TimeSpan.FromMilliseconds(250);
    private SessionCard? _session;

    /// <inheritdoc/>
    public async Task<SessionCard> SessionAsync(CancellationToken cancellation = default) =>
        _session ??= await GetAsync("api/session", SurveyJson.Default.SessionCard, cancellation);

    /// <inheritdoc/>
    public Task<ImmutableArray<SurveyCard>> ListAsync(CancellationToken cancellation = default) =>
        GetAsync("api/surveys", SurveyJson.Default.ImmutableArraySurveyCard, cancellation);

    /// <inheritdoc/>
    public Task<SurveySheet> MakeAsync(NewSurvey survey, CancellationToken cancellation = default) =>
        PostAsync("api/surveys", JsonContent.Create(survey, SurveyJson.Default.NewSurvey), SurveyJson.Default.SurveySheet, cancellation);

    /// <inheritdoc/>
    public Task<SurveySheet> OpenAsync(string id, CancellationToken cancellation = default) => GetAsync(Of(id), SurveyJson.Default.SurveySheet, cancellation);

    /// <inheritdoc/>
    public Task<SurveySheet> DuplicateAsync(string id, CancellationToken cancellation = default) =>
        PostAsync($"{Of(id)}/duplicate", null, SurveyJson.Default.SurveySheet, cancellation);

    /// <inheritdoc/>
    public async Task ArchiveAsync(string id, bool isArchived, CancellationToken cancellation = default) =>
        (await SendAsync(HttpMethod.Post, $"{Of(id)}/{(isArchived ? "archive" : "restore")}", null, cancellation)).Dispose();

    /// <inheritdoc/>
    public async Task<string> ImportAsync(string id, ImmutableArray<UploadFile> files, SaidReading said, IProgress<WorkState> progress, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(said);
        ArgumentNullException.ThrowIfNull(progress);
        using var form = new MultipartFormDataContent();
        var whole = files.Sum(file => file.Length);
        long sent = 0;
        foreach (var file in files)
        {
            form.Add(new StreamContent(new CountingStream(file.Open(), read =>
            {
                sent += read;
                progress.Report(new WorkState("", "Sending", whole == 0 ? -1 : Math.Min(1, (double)sent / whole)));
            })), "files", file.Name);
        }

        var isPacked = files.Length == 1 && files[0].Name.EndsWith(".zip", StringComparison.OrdinalIgnoreCase);
        var address = id.Length > 0 ? $"{Of(id)}/recordings" : isPacked ? "api/surveys/packed" : "api/surveys/recordings";
        var work = await PostAsync(address + said.Query('?'), form, SurveyJson.Default.WorkState, cancellation);
        return (await AwaitAsync(work, progress, cancellation)).Made;
    }

    /// <inheritdoc/>
    public Task<ColumnMatchSheet> MatchAsync(string id, string recording, SaidReading? said = null, CancellationToken cancellation = default) =>
        GetAsync($"{Of(id)}/match?recording={Uri.EscapeDataString(recording)}{(said is null ? "" : $"&again=true{said.Query('&')}")}", SurveyJson.Default.ColumnMatchSheet, cancellation);

    /// <inheritdoc/>
    public async Task<string> ConfirmAsync(string id, string recording, ColumnMatchKeep columns, IProgress<WorkState> progress, CancellationToken cancellation = default)
    {
        var work = await PostAsync(
            $"{Of(id)}/match?recording={Uri.EscapeDataString(recording)}", JsonContent.Create(columns, SurveyJson.Default.ColumnMatchKeep), SurveyJson.Default.WorkState, cancellation);
        return (await AwaitAsync(work, progress, cancellation)).Made;
    }

    /// <inheritdoc/>
    public Task<GuardSheet> GuardAsync(string id, string recording, IProgress<WorkState> progress, CancellationToken cancellation = default) =>
        WorkAsync($"{Of(id)}/guard?recording={Uri.EscapeDataString(recording)}", SurveyJson.Default.GuardSheet, progress, cancellation);

    /// <inheritdoc/>
    public Task<MendAnswer> MendAsync(string id, string recording, IProgress<WorkState> progress, CancellationToken cancellation = default) =>
        WorkAsync($"{Of(id)}/mend?recording={Uri.EscapeDataString(recording)}", SurveyJson.Default.MendAnswer, progress, cancellation);

    /// <inheritdoc/>
    public async Task SwitchAsync(string id, string recording, LayerSwitch layer, CancellationToken cancellation = default) =>
        (await SendAsync(
            HttpMethod.Post, $"{Of(id)}/corrections?recording={Uri.EscapeDataString(recording)}", JsonContent.Create(layer, SurveyJson.Default.LayerSwitch), cancellation)).Dispose();

    /// <inheritdoc/>
    public Task<StudyAnswer> StudyAsync(string id, string recording, string limits, IProgress<WorkState> progress, CancellationToken cancellation = default) =>
        WorkAsync($"{Of(id)}/study?recording={Uri.EscapeDataString(recording)}&limits={Uri.EscapeDataString(limits)}", SurveyJson.Default.StudyAnswer, progress, cancellation);

    /// <inheritdoc/>
    public Task<ImmutableArray<ColumnCard>> ColumnsAsync(string id, string recording, bool isMended, CancellationToken cancellation = default) =>
        GetAsync($"{Of(id)}/columns?{Table(recording, isMended)}", SurveyJson.Default.ImmutableArrayColumnCard, cancellation);

    /// <inheritdoc/>
    public async Task<byte[]> FrameAsync(
        string id, string recording, bool isMended, ImmutableArray<string> names, double? start, double? finish, int width, CancellationToken cancellation = default)
    {
        var span = start is { } from && finish is { } to ? string.Create(CultureInfo.InvariantCulture, $"&from={from:R}&to={to:R}") : "";
        using var answer = await SendAsync(
            HttpMethod.Get, $"{Of(id)}/columns?{Table(recording, isMended)}&names={Uri.EscapeDataString(string.Join(',', names))}&width={width}{span}", null, cancellation);
        return await answer.Content.ReadAsByteArrayAsync(cancellation);
    }

    /// <inheritdoc/>
    public async Task<VectorSheet?> VectorsAsync(string id, string recording, bool isMended, DateTime at, CancellationToken cancellation = default)
    {
        using var answer = await SendAsync(
            HttpMethod.Get, string.Create(CultureInfo.InvariantCulture, $"{Of(id)}/vectors?{Table(recording, isMended)}&at={ColumnFrame.MillisecondsOf(at):R}"), null, cancellation);
        return answer.StatusCode == HttpStatusCode.NoContent ? null : await answer.Content.ReadFromJsonAsync(SurveyJson.Default.VectorSheet, cancellation);
    }

    /// <inheritdoc/>
    public Task<MomentSheet> MomentAsync(string id, string recording, DateTime at, CancellationToken cancellation = default) => GetAsync(
        string.Create(CultureInfo.InvariantCulture, $"{Of(id)}/moment?recording={Uri.EscapeDataString(recording)}&at={ColumnFrame.MillisecondsOf(at):R}"), SurveyJson.Default.MomentSheet, cancellation);

    /// <inheritdoc/>
    public Task<FollowSheet> FollowAsync(string id, CancellationToken cancellation = default) => GetAsync($"{Of(id)}/follow", SurveyJson.Default.FollowSheet, cancellation);

    /// <inheritdoc/>
    public Task<FollowSheet> StartFollowAsync(string id, string path, CancellationToken cancellation = default) =>
        PostAsync($"{Of(id)}/follow", JsonContent.Create(new FollowStart(path), SurveyJson.Default.FollowStart), SurveyJson.Default.FollowSheet, cancellation);

    /// <inheritdoc/>
    public Task<FollowSheet> StopFollowAsync(string id, CancellationToken cancellation = default) => PostAsync($"{Of(id)}/follow/end", null, SurveyJson.Default.FollowSheet, cancellation);

    /// <inheritdoc/>
    public Task<ReportSheet> ReportAsync(string id, CancellationToken cancellation = default) => GetAsync($"{Of(id)}/report", SurveyJson.Default.ReportSheet, cancellation);

    /// <inheritdoc/>
    public Task<ReportSheet> WriteAsync(string id, WordsChange words, CancellationToken cancellation = default) =>
        PostAsync($"{Of(id)}/report/words", JsonContent.Create(words, SurveyJson.Default.WordsChange), SurveyJson.Default.ReportSheet, cancellation);

    /// <inheritdoc/>
    public Task<ReportMade> MakeReportAsync(string id, string recording, IProgress<WorkState> progress, CancellationToken cancellation = default) =>
        WorkAsync($"{Of(id)}/report/made?recording={Uri.EscapeDataString(recording)}", SurveyJson.Default.ReportMade, progress, cancellation);

    /// <inheritdoc/>
    public Task<DepartingSheet> DepartingAsync(string id, CancellationToken cancellation = default) => GetAsync($"{Of(id)}/departing", SurveyJson.Default.DepartingSheet, cancellation);

    /// <inheritdoc/>
    public Task<DepartingSheet> SignAsync(string id, DepartingSign signature, CancellationToken cancellation = default) =>
        PostAsync($"{Of(id)}/departing", JsonContent.Create(signature, SurveyJson.Default.DepartingSign), SurveyJson.Default.DepartingSheet, cancellation);

    /// <inheritdoc/>
    public Task<HookupsSheet> HookupsAsync(string id, CancellationToken cancellation = default) => GetAsync($"{Of(id)}/hookups", SurveyJson.Default.HookupsSheet, cancellation);

    /// <inheritdoc/>
    public Task<HookupsSheet> KeepAsync(string id, HookupKeep check, CancellationToken cancellation = default) =>
        PostAsync($"{Of(id)}/hookups", JsonContent.Create(check, SurveyJson.Default.HookupKeep), SurveyJson.Default.HookupsSheet, cancellation);

    /// <inheritdoc/>
    public Task<SurveySheet> PlanAsync(string id, PlanKeep plan, CancellationToken cancellation = default) =>
        PostAsync($"{Of(id)}/plan", JsonContent.Create(plan, SurveyJson.Default.PlanKeep), SurveyJson.Default.SurveySheet, cancellation);

    /// <inheritdoc/>
    public async Task<HookupsSheet> AttachAsync(string id, UploadFile photo, string caption, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(photo);
        using var form = new MultipartFormDataContent { { new StreamContent(photo.Open()), "files", photo.Name } };
        return await PostAsync($"{Of(id)}/photos?caption={Uri.EscapeDataString(caption)}", form, SurveyJson.Default.HookupsSheet, cancellation);
    }

    /// <inheritdoc/>
    public Task<ImmutableArray<JournalRow>> JournalAsync(string id, CancellationToken cancellation = default) =>
        GetAsync($"{Of(id)}/journal", SurveyJson.Default.ImmutableArrayJournalRow, cancellation);

    private static string Of(string id) => $"api/surveys/{Uri.EscapeDataString(id)}";

    private static string Table(string recording, bool isMended) => $"recording={Uri.EscapeDataString(recording)}&mended={(isMended ? "true" : "false")}";

    // The host answers 202 while it works: asked again until it is done, and told to stop when the person leaves.
    private async Task<T> WorkAsync<T>(string address, JsonTypeInfo<T> type, IProgress<WorkState> progress, CancellationToken cancellation)
    {
        while (true)
        {
            using var answer = await SendAsync(HttpMethod.Get, address, null, cancellation);
            if (answer.StatusCode != HttpStatusCode.Accepted) return await ReadAsync(answer, type, cancellation);
            await AwaitAsync(await ReadAsync(answer, SurveyJson.Default.WorkState, cancellation), progress, cancellation);
        }
    }

    private async Task<WorkState> AwaitAsync(WorkState work, IProgress<WorkState> progress, CancellationToken cancellation)
    {
        try
        {
            while (!work.IsDone)
            {
                progress.Report(work);
                await Task.Delay(s_pause, clock, cancellation);
                work = await GetAsync($"api/work/{work.Id}", SurveyJson.Default.WorkState, cancellation);
            }
        }
        catch (OperationCanceledException)
        {
            (await SendAsync(HttpMethod.Delete, $"api/work/{work.Id}", null, CancellationToken.None)).Dispose();
            throw;
        }

        if (work.Problem.Length > 0) throw new SurveyApiException(work.Problem);
        progress.Report(work);
        return work;
    }

    private async Task<T> GetAsync<T>(string address, JsonTypeInfo<T> type, CancellationToken cancellation)
    {
        using var answer = await SendAsync(HttpMethod.Get, address, null, cancellation);
        return await ReadAsync(answer, type, cancellation);
    }

    private async Task<T> PostAsync<T>(string address, HttpContent? content, JsonTypeInfo<T> type, CancellationToken cancellation)
    {
        using var answer = await SendAsync(HttpMethod.Post, address, content, cancellation);
        return await ReadAsync(answer, type, cancellation);
    }

    private static async Task<T> ReadAsync<T>(HttpResponseMessage answer, JsonTypeInfo<T> type, CancellationToken cancellation)
    {
        try
        {
            return await answer.Content.ReadFromJsonAsync(type, cancellation) ?? throw new SurveyApiException("The program gave an empty answer.");
        }
        catch (JsonException failure)
        {
            throw new SurveyApiException("The program's answer can't be read: page and program may be of different versions. Load the page again.", failure);
        }
    }

    private async Task<HttpResponseMessage> SendAsync(HttpMethod method, string address, HttpContent? content, CancellationToken cancellation)
    {
        using var request = new HttpRequestMessage(method, address) { Content = content };
        try
        {
            if (method != HttpMethod.Get) request.Headers.Add(TokenHeader, (await SessionAsync(cancellation)).Token);
            var answer = await http.SendAsync(request, cancellation);
            if (answer.IsSuccessStatusCode) return answer;
            using (answer) throw await RefusalAsync(answer, cancellation);
        }
        catch (HttpRequestException failure)
        {
            throw new SurveyApiException(Away, failure) { IsAway = true };
        }
    }

    private async Task<SurveyApiException> RefusalAsync(HttpResponseMessage answer, CancellationToken cancellation)
    {
        var detail = "";
        try
        {
            detail = (await answer.Content.ReadFromJsonAsync(SurveyJson.Default.ProblemSheet, cancellation))?.Detail ?? "";
        }
        catch (Exception failure) when (failure is JsonException or NotSupportedException)
        {
            // Not one of the host's own answers: the status has to do.
        }

        // A token of a program that was started anew meanwhile.
        if (answer.StatusCode == HttpStatusCode.Forbidden) _session = null;
        if (detail.Length == 0) detail = string.Create(CultureInfo.InvariantCulture, $"The program refused it ({(int)answer.StatusCode}). Load the page again.");
        return new SurveyApiException(detail)
        {
            IsConflict = answer.StatusCode == HttpStatusCode.Conflict,
            IsNotFound = answer.StatusCode == HttpStatusCode.NotFound,
        };
    }
}
