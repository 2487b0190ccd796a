using System.Security.Cryptography;
using Leadwright.Client.Surveys;

namespace Leadwright.App.Hosting.Surveys;

/// <summary>Keeps other pages away from the surveys: a change needs the session's token and comes from our own pages; this machine's names only, unless others are let in.</summary>
/// <param name="isOpenToNetwork">True when other devices may come.</param>
internal sealed class ChangeProtection(bool isOpenToNetwork)
{
    /// <summary>The token of this run of the program.</summary>
    public string Token { get; } = Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(24));

    /// <summary>What is wrong with a request; empty when it may pass.</summary>
    public string Problem(HttpRequest request)
    {
        // A name of someone else's that leads to this machine would let their page read ours.
        if (!isOpenToNetwork && !IsThisMachine(request.Host.Host)) return "This address is not one of this computer's own. Open http://localhost instead.";
        if (request.Headers["Sec-Fetch-Site"] is [{ } site] && site is not ("same-origin" or "none")) return "Another page asked for this. Open the surveys in a page of their own.";
        if (HttpMethods.IsGet(request.Method) || HttpMethods.IsHead(request.Method)) return "";
        if (request.Headers.Origin is [{ } origin] && !IsOwn(origin, request)) return "Another page asked for this change. Open the surveys in a page of their own.";
        return request.Headers[SurveyApi.TokenHeader] is [{ } token] && CryptographicOperations.FixedTimeEquals(Bytes(token), Bytes(Token))
            ? "" : "The program was started anew since this page was loaded. Load the page again; nothing was changed.";
    }

    private static byte[] Bytes(string text) => System.Text.Encoding.UTF8.GetBytes(text);

    private static bool IsThisMachine(string host) => host is "localhost" or "127.0.0.1" or "[::1]" or "::1";

    private static bool IsOwn(string origin, HttpRequest request) => Uri.TryCreate(origin, UriKind.Absolute, out var uri) && uri.Authority == request.Host.Value;
}
