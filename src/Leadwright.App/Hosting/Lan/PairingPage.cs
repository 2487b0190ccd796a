using System.Globalization;
using System.Net;
using System.Text;

namespace Leadwright.App.Hosting.Lan;

/// <summary>The page on which a device shows the code, and the one on this computer that shows it.</summary>
internal static class PairingPage
{
    /// <summary>As everywhere, and the form may ask this host.</summary>
    public const string ContentSecurityPolicy =
        "default-src 'none'; style-src 'self'; font-src 'self'; img-src 'self'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'";

    /// <summary>What a device sees that showed the code.</summary>
    public static string Connected { get; } = Page(
        "Connected",
        """<p>This device may open Leadwright until the program on the computer ends.</p><p><a class="button" href="/">Open Leadwright</a></p>""");

    /// <summary>True for what this page needs before a device showed the code.</summary>
    /// <param name="path">The path asked for.</param>
    public static bool Needs(PathString path) =>
        path == "/css/app.css" || path == "/icon.svg" || path.StartsWithSegments("/fonts", StringComparison.Ordinal);

    /// <summary>What a device sees that has not shown the code.</summary>
    /// <param name="answer">What came of the last try; null before the first.</param>
    public static string ForDevice(PairingAnswer? answer)
    {
        var says = answer switch
        {
            PairingAnswer.Wrong => """<p class="problem" role="alert">That is not the code. Look at the computer's screen again.</p>""",
            PairingAnswer.Paused => """<p class="problem" role="alert">Too many wrong codes. Wait a minute, then try again.</p>""",
            _ => "",
        };
        return Page(
            "Connect this device",
            says + """
            <p>The computer that runs Leadwright shows a code of eight signs: in the window that it was started from, and on its page /connect.</p>
            <form method="get" action="/connect">
            <label for="code">Code</label>
            <input id="code" name="code" type="text" autocomplete="off" autocapitalize="characters" spellcheck="false" maxlength="16" required>
            <button class="button" type="submit">Connect</button>
            </form>
            """);
    }

    /// <summary>What this computer shows.</summary>
    /// <param name="code">The code.</param>
    /// <param name="port">The port.</param>
    public static string ForThisComputer(string code, int port)
    {
        var addresses = LanAddresses.Find();
        if (addresses.Count == 0)
            return Page("Connect a device", "<p>This computer is on no network: connect it to one, then load this page again.</p>");
        var body = new StringBuilder();
        foreach (var address in addresses.Take(3))
        {
            var plain = string.Create(CultureInfo.InvariantCulture, $"http://{address}:{port}");
            body.Append(CultureInfo.InvariantCulture, $"<h2>{WebUtility.HtmlEncode(plain)}</h2>").Append(QrDrawing.Svg($"{plain}{PairingGate.Path}?code={code}"));
        }

        body.Append(CultureInfo.InvariantCulture, $"""<p>Code: <strong class="figure">{code[..4]} {code[4..]}</strong></p>""")
            .Append("<p>Scan with the phone's camera, or open the address there and type the code. Both must be on one network of your own. What goes between them is not encrypted.</p>");
        return Page("Connect a device", body.ToString());
    }

    private static string Page(string title, string body) => $"""
        <!doctype html>
        <html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
        <title>{title}: Leadwright</title><link rel="stylesheet" href="/css/app.css"><link rel="icon" href="/icon.svg"></head>
        <body class="connect"><main><h1>{title}</h1>{body}</main></body></html>
        """;
}
