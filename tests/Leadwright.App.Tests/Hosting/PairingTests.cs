using System.Net;
using Leadwright.App.Hosting.Lan;
using Microsoft.AspNetCore.Http;

namespace Leadwright.App.Tests.Hosting;

/// <summary>Another device of the network gets nothing before it showed the code.</summary>
public sealed class PairingTests
{
    private static readonly IPAddress s_phone = IPAddress.Parse("192.0.2.17");
    private readonly Clock _clock = new();
    private readonly PairingCode _code;
    private readonly PairedDevices _devices = new();
    private readonly PairingGate _gate;

    public PairingTests()
    {
        _code = new PairingCode(_clock);
        _gate = new PairingGate(_code, _devices);
    }

    [Theory]
    [InlineData("/")]
    [InlineData("/api/surveys")]
    [InlineData("/_framework/blazor.webassembly.js")]
    [InlineData("/css/../api/surveys")]
    public async Task A_device_without_the_code_is_refused(string path)
    {
        var (context, passed) = await Ask(path, s_phone);
        Assert.False(passed);
        Assert.Equal(StatusCodes.Status401Unauthorized, context.Response.StatusCode);
    }

    [Fact]
    public async Task A_browser_without_the_code_is_led_to_the_page_that_asks_for_it()
    {
        var (context, passed) = await Ask("/hook-up", s_phone, accept: "text/html");
        Assert.False(passed);
        Assert.Equal(PairingGate.Path, context.Response.Headers.Location);
    }

    [Theory]
    [InlineData("127.0.0.1")]
    [InlineData("::1")]
    [InlineData("::ffff:127.0.0.1")]
    public async Task This_computer_needs_no_code(string address)
    {
        var (_, passed) = await Ask("/api/surveys", IPAddress.Parse(address), host: "localhost");
        Assert.True(passed);
    }

    [Fact]
    public async Task The_code_lets_a_device_in_typed_in_any_case_and_with_a_space()
    {
        var typed = _code.Text.ToLowerInvariant().Insert(4, " ");
        var (answer, _) = await Ask(PairingGate.Path, s_phone, query: "?code=" + Uri.EscapeDataString(typed));
        Assert.Equal(StatusCodes.Status200OK, answer.Response.StatusCode);
        var cookie = answer.Response.Headers.SetCookie.ToString();
        Assert.Contains("httponly", cookie, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("samesite=strict", cookie, StringComparison.OrdinalIgnoreCase);
        var (_, passed) = await Ask("/api/surveys", s_phone, cookie: cookie[..cookie.IndexOf(';')]);
        Assert.True(passed);
    }

    [Fact]
    public async Task An_invented_token_lets_nobody_in()
    {
        var (_, passed) = await Ask("/api/surveys", s_phone, cookie: "leadwright-device=" + new string('A', 64));
        Assert.False(passed);
    }

    [Fact]
    public async Task Five_wrong_codes_close_the_door_for_a_minute_to_the_right_one_too()
    {
        for (var wrong = 1; wrong < PairingCode.MostWrong; wrong++) Assert.Equal(StatusCodes.Status403Forbidden, await Try("WRONG"));
        Assert.Equal(StatusCodes.Status429TooManyRequests, await Try("WRONG"));
        Assert.Equal(StatusCodes.Status429TooManyRequests, await Try(_code.Text));
        _clock.Now += PairingCode.Pause;
        Assert.Equal(StatusCodes.Status200OK, await Try(_code.Text));
    }

    [Fact]
    public async Task The_code_is_shown_on_this_computer_only()
    {
        var (here, _) = await Ask(PairingGate.Path, IPAddress.Loopback, host: "localhost");
        var (there, _) = await Ask(PairingGate.Path, s_phone);
        Assert.DoesNotContain(_code.Text[..4], BodyOf(there), StringComparison.Ordinal);
        // A machine with no network has no address to show, and says so.
        if (LanAddresses.Find().Count > 0) Assert.Contains(_code.Text[..4], BodyOf(here), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("a-page-elsewhere.example", "127.0.0.1")]
    [InlineData("a-page-elsewhere.example", "192.0.2.17")]
    [InlineData("localhost", "192.0.2.17")]
    public async Task A_foreign_name_that_points_here_is_not_answered(string host, string from)
    {
        var (context, passed) = await Ask("/api/surveys", IPAddress.Parse(from), host: host);
        Assert.False(passed);
        Assert.Equal(StatusCodes.Status421MisdirectedRequest, context.Response.StatusCode);
    }

    [Fact]
    public void Every_start_draws_another_code_of_signs_that_look_like_no_other()
    {
        var codes = Enumerable.Range(0, 50).Select(_ => new PairingCode(_clock).Text).ToList();
        Assert.Equal(codes.Count, codes.Distinct().Count());
        Assert.All(codes, code => Assert.Matches("^[2-9A-HJ-NP-Z]{8}$", code));
    }

    private async Task<int> Try(string code) => (await Ask(PairingGate.Path, s_phone, query: "?code=" + code)).Context.Response.StatusCode;

    private async Task<(HttpContext Context, bool Passed)> Ask(
        string path, IPAddress from, string host = "192.0.2.2", string query = "", string accept = "*/*", string? cookie = null)
    {
        var context = new DefaultHttpContext();
        context.Connection.RemoteIpAddress = from;
        context.Request.Method = "GET";
        context.Request.Host = new HostString(host, 5480);
        context.Request.Path = path;
        context.Request.QueryString = new QueryString(query);
        context.Request.Headers.Accept = accept;
        if (cookie is not null) context.Request.Headers.Cookie = cookie;
        context.Response.Body = new MemoryStream();
        var passed = false;
        await _gate.HandleAsync(context, _ =>
        {
            passed = true;
            return Task.CompletedTask;
        });
        return (context, passed);
    }

    private static string BodyOf(HttpContext context) => System.Text.Encoding.UTF8.GetString(((MemoryStream)context.Response.Body).ToArray());

    private sealed class Clock : TimeProvider
    {
        public DateTimeOffset Now { get; set; } = new(2026, 3, 2, 8, 0, 0, TimeSpan.Zero);

        public override DateTimeOffset GetUtcNow() => Now;
    }
}
