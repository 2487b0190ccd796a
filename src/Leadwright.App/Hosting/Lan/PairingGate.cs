using System.Net;

namespace Leadwright.App.Hosting.Lan;

/// <summary>Lets this computer in, and other devices once they showed the code.</summary>
internal sealed class PairingGate(PairingCode code, PairedDevices devices)
{
    /// <summary>Where a device shows the code.</summary>
    public const string Path = "/connect";

    private const string Cookie = "leadwright-device";

    /// <summary>Handles one request.</summary>
    /// <param name="context">The request.</param>
    /// <param name="next">What serves those that may pass.</param>
    public async Task HandleAsync(HttpContext context, RequestDelegate next)
    {
        var isHere = IsThisComputer(context.Connection.RemoteIpAddress);
        if (!MayBeAsked(context.Request.Host.Host, isHere))
        {
            context.Response.StatusCode = StatusCodes.Status421MisdirectedRequest;
            await context.Response.WriteAsync("Open Leadwright by the address that it printed.", context.RequestAborted);
            return;
        }

        if (context.Request.Path == Path)
        {
            await ShowAsync(context, isHere);
            return;
        }

        if (isHere || devices.Knows(context.Request.Cookies[Cookie]) || PairingPage.Needs(context.Request.Path))
        {
            await next(context);
            return;
        }

        if (HttpMethods.IsGet(context.Request.Method) && context.Request.Headers.Accept.ToString().Contains("text/html", StringComparison.Ordinal))
        {
            context.Response.Redirect(Path);
            return;
        }

        context.Response.StatusCode = StatusCodes.Status401Unauthorized;
        await context.Response.WriteAsync("This device has not shown the code yet: open " + Path + ".", context.RequestAborted);
    }

    /// <summary>True for a request that came from this computer.</summary>
    /// <param name="remote">Where it came from; null for one that did not come over a network.</param>
    public static bool IsThisComputer(IPAddress? remote) => remote is null || IPAddress.IsLoopback(remote.IsIPv4MappedToIPv6 ? remote.MapToIPv4() : remote);

    /// <summary>False for a name that is not this host's: a foreign page that had its own name point here must not be answered.</summary>
    /// <param name="host">The name or number that the browser asked for.</param>
    /// <param name="isThisComputer">True when it asks from this computer.</param>
    public static bool MayBeAsked(string host, bool isThisComputer)
    {
        if (string.Equals(host, "localhost", StringComparison.OrdinalIgnoreCase)) return isThisComputer;
        if (IPAddress.TryParse(host.Trim('[', ']'), out _)) return true;
        return string.Equals(host, Dns.GetHostName(), StringComparison.OrdinalIgnoreCase)
            || string.Equals(host, Dns.GetHostName() + ".local", StringComparison.OrdinalIgnoreCase);
    }

    private async Task ShowAsync(HttpContext context, bool isHere)
    {
        context.Response.ContentType = "text/html; charset=utf-8";
        context.Response.Headers.CacheControl = "no-store";
        context.Response.Headers.ContentSecurityPolicy = PairingPage.ContentSecurityPolicy;
        if (isHere)
        {
            await context.Response.WriteAsync(PairingPage.ForThisComputer(code.Text, context.Connection.LocalPort), context.RequestAborted);
            return;
        }

        var typed = context.Request.Query["code"].ToString();
        var answer = typed.Length == 0 ? (PairingAnswer?)null : code.Try(typed);
        if (answer == PairingAnswer.Right)
        {
            context.Response.Cookies.Append(Cookie, devices.Add(), new CookieOptions
            {
                HttpOnly = true,
                SameSite = SameSiteMode.Strict,
                Secure = context.Request.IsHttps,
                Path = "/",
            });
            // A page of our own and not a redirect: a cookie of a strict site is not sent on the redirect of a scanned address.
            await context.Response.WriteAsync(PairingPage.Connected, context.RequestAborted);
            return;
        }

        context.Response.StatusCode = answer switch
        {
            PairingAnswer.Paused => StatusCodes.Status429TooManyRequests,
            PairingAnswer.Wrong => StatusCodes.Status403Forbidden,
            _ => StatusCodes.Status200OK,
        };
        await context.Response.WriteAsync(PairingPage.ForDevice(answer), context.RequestAborted);
    }
}
