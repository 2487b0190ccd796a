using System.Security.Cryptography;
using Leadwright.Client.Surveys;

namespace Leadwright.App.Hosting.Surveys;

/// <summary>Keeps other pages away from the surveys: a change needs the session's token and comes from our own pages. Which devices and names are let in at all is the
/// matter of <see cref="Lan.PairingGate"/>.</summary>
internal sealed class ChangeProtection
{
    /// <summary>The token of this run of the program.</summary>
    public string Token { get; } = Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(24));

    /// <summary>What is wrong with a request; empty when it may pass.</summary>
    public string Problem(HttpRequest request)
    {
        if (request.Headers["Sec-Fetch-Site"] is [{ } site] && site is not ("same-origin" or "none")) return "Another page asked for this. Open the surveys in a page of their own.";
        if (HttpMethods.IsGet(request.Method) || HttpMethods.IsHead(request.Method)) return "";
        if (request.Headers.Origin is [{ } origin] && !IsOwn(origin, request)) return "Another page asked for this change. Open the surveys in a page of their own.";
        return request.Headers[SurveyApi.TokenHeader] is [{ } token] && CryptographicOperations.FixedTimeEquals(Bytes(token), Bytes(Token))
            ? "" : "The program was started anew since this page was loaded. Load the page again; nothing was changed.";
    }

    private static byte[] Bytes(string text) => System.Text.Encoding.UTF8.GetBytes(text);

    private static bool IsOwn(string origin, HttpRequest request) => Uri.TryCreate(origin, UriKind.Absolute, out var uri) && uri.Authority == request.Host.Value;
}
