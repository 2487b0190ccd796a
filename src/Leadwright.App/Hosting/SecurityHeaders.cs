namespace Leadwright.App.Hosting;

/// <summary>The headers that hold the page to what it was served with.</summary>
internal static class SecurityHeaders
{
    // 'wasm-unsafe-eval' lets the browser compile the .NET runtime and nothing else; no address but our own is ever asked.
    private const string ContentSecurityPolicy =
        "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; font-src 'self'; img-src 'self' data:; "
        + "connect-src 'self'; frame-src 'self'; manifest-src 'self'; worker-src 'self'; base-uri 'self'; form-action 'none'; frame-ancestors 'none'";

    /// <summary>Adds the headers to every answer.</summary>
    /// <param name="app">The application.</param>
    public static void UseSecurityHeaders(this IApplicationBuilder app) => app.Use((context, next) =>
    {
        var headers = context.Response.Headers;
        headers.ContentSecurityPolicy = ContentSecurityPolicy;
        headers.XContentTypeOptions = "nosniff";
        headers.XFrameOptions = "DENY";
        headers["Referrer-Policy"] = "no-referrer";
        headers["Permissions-Policy"] = "camera=(), geolocation=(), microphone=()";
        headers["Cross-Origin-Opener-Policy"] = "same-origin";
        return next(context);
    });
}
