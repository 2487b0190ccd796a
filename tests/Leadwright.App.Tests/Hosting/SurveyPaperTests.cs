using System.Net;
using System.Net.Http.Headers;
using System.Net.Http.Json;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using Leadwright.App.Hosting.Surveys;
using Leadwright.Client.Surveys;

namespace Leadwright.App.Tests.Hosting;

public sealed class SurveyPaperTests(ServedFolder served) : IClassFixture<ServedFolder>
{
    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Words_notes_and_the_signed_check_stand_in_the_report_of_every_kind()
    {
        var survey = await served.MakeAsync("Reported");
        Assert.Equal("", (await served.UploadAsync($"api/surveys/{survey.Id}/recordings", "week.csv", await ServedFolder.WeekCsvAsync())).Problem);
        var sheet = await GetAsync($"api/surveys/{survey.Id}/report");
        Assert.Equal("Reported", sheet.Fields.Single(field => field.Place == "site").Usual);
        foreach (var (place, text) in new[] { ("customer", "Invented Bakery\n1 Example Street"), ("questions", "Is there room for an oven? Yes, see the load study."), ("note.load", "The ovens were off on Tuesday."), ("parts", "summary,hook-up,load") })
        {
            using var answer = await WriteAsync(survey.Id, place, text, sheet.Sequence);
            Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        }

        using var signed = await SignAsync(survey.Id, "A. Fitter", "covers");
        Assert.Equal(HttpStatusCode.OK, signed.StatusCode);
        _ = await served.ResultAsync($"api/surveys/{survey.Id}/report/made");
        using var page = await served.Http.GetAsync(new Uri($"api/surveys/{survey.Id}/report/document.html", UriKind.Relative), Cancellation);
        var html = await page.Content.ReadAsStringAsync(Cancellation);
        foreach (var word in (string[])["Invented Bakery, 1 Example Street", "Is there room for an oven?", "Yes, see the load study.", "The ovens were off on Tuesday.", "Signed by A. Fitter", "Nobody had the key"])
            Assert.Contains(word, html, StringComparison.Ordinal);
        Assert.DoesNotContain("<section id=\"voltage\"", html, StringComparison.Ordinal);
        // Shown in our own frame, and nothing in it can run or ask.
        Assert.Equal("SAMEORIGIN", page.Headers.GetValues("X-Frame-Options").Single());
        Assert.Contains("sandbox", page.Headers.GetValues("Content-Security-Policy").Single(), StringComparison.Ordinal);
        foreach (var (ending, start) in new[] { ("pdf", "%PDF"), ("xlsx", "PK") })
            Assert.StartsWith(start, Encoding.Latin1.GetString(await served.Http.GetByteArrayAsync(new Uri($"api/surveys/{survey.Id}/report/document.{ending}?save=true", UriKind.Relative), Cancellation)), StringComparison.Ordinal);

        // The verb writes the same page from the same folder.
        var path = Path.Combine(served.Folder, "by-verb.html");
        var run = new Verbs.CommandRun();
        Assert.Equal(10, await run.RunAsync("report", Path.Combine(served.Folder, survey.Id), "-o", path));
        Assert.Equal(await File.ReadAllTextAsync(path, Cancellation), html);
    }

    [Fact]
    public async Task What_is_to_be_worked_out_is_kept_and_counts_in_study_report_and_verb()
    {
        var survey = await served.MakeAsync("Rated");
        Assert.Equal("", (await served.UploadAsync($"api/surveys/{survey.Id}/recordings", "week.csv", await ServedFolder.WeekCsvAsync())).Problem);
        var sheet = await GetAsync($"api/surveys/{survey.Id}/report");
        Assert.Contains(sheet.Study, field => field.Place == "study.rating");
        using (var wrong = await WriteAsync(survey.Id, "study.hours", "always", sheet.Sequence)) Assert.Equal(HttpStatusCode.BadRequest, wrong.StatusCode);
        using (var wrong = await WriteAsync(survey.Id, "study.tariff", "{}", sheet.Sequence)) Assert.Equal(HttpStatusCode.BadRequest, wrong.StatusCode);
        (string, string)[] said = [("study.demand", "30,60"), ("study.hours", "mon-fri 07:00-18:00")];
        foreach (var (place, text) in said)
        {
            using var kept = await WriteAsync(survey.Id, place, text, sheet.Sequence);
            Assert.Equal(HttpStatusCode.OK, kept.StatusCode);
        }

        var study = (await served.ResultAsync($"api/surveys/{survey.Id}/study")).GetProperty("study");
        // Each length as a block and as a sliding window.
        Assert.Equal([30.0, 60.0], study.GetProperty("demands").EnumerateArray().Select(demand => demand.GetProperty("minutes").GetDouble()).Distinct());
        Assert.True(study.GetProperty("opening_hours").GetProperty("closed_share").GetDouble() is > 0 and < 1);

        // The verb takes them from the folder, and leaves all of them where its command line says one.
        var folder = Path.Combine(served.Folder, survey.Id);
        var run = new Verbs.CommandRun();
        await run.RunAsync("study", folder, "--format", "json");
        using (var json = JsonDocument.Parse(run.Output)) Assert.Equal(30, json.RootElement.GetProperty("demands")[0].GetProperty("minutes").GetDouble());
        await run.RunAsync("study", folder, "--demand", "10", "--format", "json");
        using (var json = JsonDocument.Parse(run.Output))
        {
            Assert.Equal(10, json.RootElement.GetProperty("demands")[0].GetProperty("minutes").GetDouble());
            Assert.False(json.RootElement.TryGetProperty("opening_hours", out _));
        }

        var html = await served.Http.GetStringAsync(new Uri($"api/surveys/{survey.Id}/report/document.html", UriKind.Relative), Cancellation);
        Assert.Contains("Highest demand, 30\u00a0min", html, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_place_that_somebody_else_wrote_meanwhile_is_not_written_over_unseen()
    {
        var survey = await served.MakeAsync("Two writers");
        var sheet = await GetAsync($"api/surveys/{survey.Id}/report");
        (await WriteAsync(survey.Id, "site", "The first", sheet.Sequence)).Dispose();
        using var other = await WriteAsync(survey.Id, "site", "The second", sheet.Sequence);
        Assert.Equal(HttpStatusCode.Conflict, other.StatusCode);
        Assert.Contains("The first", (await ServedFolder.ProblemAsync(other)).Detail, StringComparison.Ordinal);
        // Another place is no conflict.
        using var elsewhere = await WriteAsync(survey.Id, "author", "A. Fitter", sheet.Sequence);
        Assert.Equal(HttpStatusCode.OK, elsewhere.StatusCode);
        var now = await GetAsync($"api/surveys/{survey.Id}/report");
        Assert.Equal("The first", now.Fields.Single(field => field.Place == "site").Text);
        Assert.NotEqual("", now.Fields.Single(field => field.Place == "site").Who);
    }

    [Theory]
    [InlineData("no-such-place", "x")]
    [InlineData("date", "9.3.2026")]
    [InlineData("accuracy", "a lot")]
    [InlineData("paper", "a5")]
    [InlineData("parts", "summary,lod")]
    [InlineData("site", "two\nlines")]
    [InlineData("note.lod", "x")]
    public async Task Words_that_the_report_has_no_use_for_are_refused(string place, string text)
    {
        var survey = await served.MakeAsync("Refused words");
        using var answer = await WriteAsync(survey.Id, place, text, 1);
        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
    }

    [Fact]
    public async Task The_check_before_leaving_wants_every_item_and_a_reason_for_what_is_not_in_order()
    {
        var survey = await served.MakeAsync("Left");
        var sheet = (await served.Http.GetFromJsonAsync($"api/surveys/{survey.Id}/departing", SurveyJson.Default.DepartingSheet, Cancellation))!;
        // Four wires: one switched load for each of three phases.
        Assert.Equal(["clock", "range", "memory", "supply", "load-1", "load-2", "load-3", "covers"], sheet.Items.Select(item => item.Key));
        using var missing = await SendAsync(survey.Id, new DepartingSign("A. Fitter", "", sheet.Sequence) { Answers = [new("clock", "yes", "")] });
        Assert.Equal(HttpStatusCode.BadRequest, missing.StatusCode);
        using var bare = await SendAsync(survey.Id, new DepartingSign("A. Fitter", "", sheet.Sequence) { Answers = [.. sheet.Items.Select(item => new DepartingAnswer(item.Key, "no", ""))] });
        Assert.Equal(HttpStatusCode.BadRequest, bare.StatusCode);
        using var nobody = await SendAsync(survey.Id, new DepartingSign(" ", "", sheet.Sequence) { Answers = [.. sheet.Items.Select(item => new DepartingAnswer(item.Key, "yes", ""))] });
        Assert.Equal(HttpStatusCode.BadRequest, nobody.StatusCode);
        using var signed = await SignAsync(survey.Id, "A. Fitter", "load-2");
        var after = (await signed.Content.ReadFromJsonAsync(SurveyJson.Default.DepartingSheet, Cancellation))!;
        Assert.Equal(("A. Fitter", 1), (Assert.Single(after.Signed).Who, after.Signed[0].OpenCount));
        // A second signature from what was seen before the first is not taken; one that saw it is, and both stand.
        using var late = await SendAsync(survey.Id, new DepartingSign("B. Fitter", "", sheet.Sequence) { Answers = [.. sheet.Items.Select(item => new DepartingAnswer(item.Key, "yes", ""))] });
        Assert.Equal(HttpStatusCode.Conflict, late.StatusCode);
        using var again = await SendAsync(survey.Id, new DepartingSign("B. Fitter", "", after.Sequence) { Answers = [.. sheet.Items.Select(item => new DepartingAnswer(item.Key, "yes", ""))] });
        Assert.Equal(["B. Fitter", "A. Fitter"], (await again.Content.ReadFromJsonAsync(SurveyJson.Default.DepartingSheet, Cancellation))!.Signed.Select(one => one.Who));
        Assert.Equal("B. Fitter", (await served.Http.GetFromJsonAsync($"api/surveys/{survey.Id}", SurveyJson.Default.SurveySheet, Cancellation))!.Departing!.Who);
    }

    [Fact]
    public async Task A_check_of_the_hook_up_is_kept_with_its_readings_and_what_was_told()
    {
        var survey = await served.MakeAsync("Checked");
        using var verdict = JsonDocument.Parse("""{"schema":"leadwright.check/1","verdict":"faulty","confidence":0.99,"faults":[{"says":"Clamp I1 faces the source.","remedy":"Turn clamp I1 round."}]}""");
        using var readings = JsonDocument.Parse("""{"schema":"leadwright.readings/1","service":"wye"}""");
        using var kept = await served.Http.PostAsJsonAsync(
            $"api/surveys/{survey.Id}/hookups", new HookupKeep(verdict.RootElement, readings.RootElement) { Told = ["rotation=abc"] }, SurveyJson.Default.HookupKeep, Cancellation);
        Assert.Equal(HttpStatusCode.OK, kept.StatusCode);
        var sheet = (await kept.Content.ReadFromJsonAsync(SurveyJson.Default.HookupsSheet, Cancellation))!;
        var card = Assert.Single(sheet.Checks);
        Assert.Equal(("faulty", 0.99, "Clamp I1 faces the source.", "Turn clamp I1 round."), (card.Verdict, card.Confidence!.Value, card.Says, Assert.Single(card.Moves)));
        Assert.Single(sheet.Told);
        using var stranger = JsonDocument.Parse("""{"schema":"something/1","verdict":"correct"}""");
        using var refused = await served.Http.PostAsJsonAsync($"api/surveys/{survey.Id}/hookups", new HookupKeep(stranger.RootElement, null), SurveyJson.Default.HookupKeep, Cancellation);
        Assert.Equal(HttpStatusCode.BadRequest, refused.StatusCode);
    }

    [Fact]
    public async Task A_photo_is_kept_byte_for_byte_and_its_position_is_told()
    {
        var survey = await served.MakeAsync("Photographed");
        var photo = Jpeg(withPosition: true);
        var sheet = await AttachAsync(survey.Id, "panel.png", photo, "Clamp I2");
        var card = Assert.Single(sheet.Photos);
        Assert.Equal(("Clamp I2", true, true, Convert.ToHexStringLower(SHA256.HashData(photo))), (card.Caption, card.IsPicture, card.HasPosition, card.Sha256));
        using var shown = await served.Http.GetAsync(new Uri($"api/surveys/{survey.Id}/photos/{card.Entry}", UriKind.Relative), Cancellation);
        // Its bytes say what it is, not its name.
        Assert.Equal("image/jpeg", shown.Content.Headers.ContentType!.MediaType);
        Assert.Equal(photo, await shown.Content.ReadAsByteArrayAsync(Cancellation));
        Assert.False((await AttachAsync(survey.Id, "plain.jpg", Jpeg(withPosition: false), "")).Photos[0].HasPosition);
    }

    [Fact]
    public async Task What_is_no_picture_by_its_bytes_is_not_attached_whatever_it_is_called()
    {
        var survey = await served.MakeAsync("No photo");
        using var form = Form("panel.jpg", Encoding.UTF8.GetBytes("<script>alert(1)</script>"));
        using var answer = await served.Http.PostAsync(new Uri($"api/surveys/{survey.Id}/photos", UriKind.Relative), form, Cancellation);
        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
        Assert.Contains("no photo by its bytes", (await ServedFolder.ProblemAsync(answer)).Detail, StringComparison.Ordinal);
        Assert.Empty((await served.Http.GetFromJsonAsync($"api/surveys/{survey.Id}/hookups", SurveyJson.Default.HookupsSheet, Cancellation))!.Photos);
    }

    [Fact]
    public void A_picture_that_is_cut_short_anywhere_is_looked_into_without_harm()
    {
        var whole = Jpeg(withPosition: true);
        Assert.True(PhotoFile.HasPosition(whole));
        for (var length = 0; length < whole.Length; length++) _ = PhotoFile.HasPosition(whole.AsSpan(0, length));
        // The same directory in a PNG's chunk and in a WebP's.
        var exif = Exif(withPosition: true);
        Assert.True(PhotoFile.HasPosition((byte[])[0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A, 0, 0, 0, (byte)exif.Length, .. "eXIf"u8, .. exif, 0, 0, 0, 0]));
        Assert.True(PhotoFile.HasPosition((byte[])[.. "RIFF"u8, 0, 0, 0, 0, .. "WEBP"u8, .. "EXIF"u8, (byte)exif.Length, 0, 0, 0, .. exif]));
    }

    // An Exif directory by CIPA DC-008: one entry 0x8825 that leads to a directory with a latitude (2).
    private static byte[] Exif(bool withPosition) =>
    [
        .. "MM"u8, 0, 42, 0, 0, 0, 8,
        0, 1, .. (byte[])(withPosition ? [0x88, 0x25] : [0x01, 0x12]), 0, 4, 0, 0, 0, 1, 0, 0, 0, 26, 0, 0, 0, 0,
        0, 1, 0, 2, 0, 5, 0, 0, 0, 3, 0, 0, 0, 0, 0, 0, 0, 0,
    ];

    private static byte[] Jpeg(bool withPosition)
    {
        byte[] exif = [.. "Exif\0\0"u8, .. Exif(withPosition)];
        return [0xFF, 0xD8, 0xFF, 0xE1, 0, (byte)(exif.Length + 2), .. exif, 0xFF, 0xDA, 0, 2, 0xFF, 0xD9];
    }

    private static MultipartFormDataContent Form(string name, byte[] bytes)
    {
        var content = new ByteArrayContent(bytes);
        content.Headers.ContentType = new MediaTypeHeaderValue("application/octet-stream");
        return new MultipartFormDataContent { { content, "files", name } };
    }

    private async Task<HookupsSheet> AttachAsync(string id, string name, byte[] bytes, string caption)
    {
        using var form = Form(name, bytes);
        using var answer = await served.Http.PostAsync(new Uri($"api/surveys/{id}/photos?caption={Uri.EscapeDataString(caption)}", UriKind.Relative), form, Cancellation);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        return (await answer.Content.ReadFromJsonAsync(SurveyJson.Default.HookupsSheet, Cancellation))!;
    }

    private async Task<ReportSheet> GetAsync(string address) => (await served.Http.GetFromJsonAsync(address, SurveyJson.Default.ReportSheet, Cancellation))!;

    private Task<HttpResponseMessage> WriteAsync(string id, string place, string text, long sequence) =>
        served.Http.PostAsJsonAsync($"api/surveys/{id}/report/words", new WordsChange(place, text, sequence), SurveyJson.Default.WordsChange, Cancellation);

    private Task<HttpResponseMessage> SendAsync(string id, DepartingSign signature) =>
        served.Http.PostAsJsonAsync($"api/surveys/{id}/departing", signature, SurveyJson.Default.DepartingSign, Cancellation);

    private async Task<HttpResponseMessage> SignAsync(string id, string who, string notPossible)
    {
        var sheet = (await served.Http.GetFromJsonAsync($"api/surveys/{id}/departing", SurveyJson.Default.DepartingSheet, Cancellation))!;
        return await SendAsync(id, new DepartingSign(who, "", sheet.Sequence)
        {
            Answers = [.. sheet.Items.Select(item => item.Key == notPossible ? new DepartingAnswer(item.Key, "not-possible", "Nobody had the key") : new DepartingAnswer(item.Key, "yes", ""))],
        });
    }
}
