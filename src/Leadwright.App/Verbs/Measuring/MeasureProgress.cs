using System.Diagnostics;
using System.Globalization;

namespace Leadwright.App.Verbs.Measuring;

/// <summary>Shows how far the work on a file is.</summary>
internal static class MeasureProgress
{
    /// <summary>Only work of some seconds shows how far it is, and only to a person at a terminal.</summary>
    /// <param name="path">The file.</param>
    /// <param name="error">Where it is shown.</param>
    public static Action<double> Of(string path, TextWriter error)
    {
        if (Console.IsErrorRedirected || !ReferenceEquals(error, Console.Error)) return _ => { };
        var clock = Stopwatch.StartNew();
        var shown = 0L;
        return share =>
        {
            var now = clock.ElapsedMilliseconds;
            if (now - shown < 500 && share < 1) return;
            if (share >= 1 && shown == 0) return;
            shown = now;
            var left = (now / 1000.0 * (1 - share) / Math.Max(share, 1e-6)).ToString("0", CultureInfo.InvariantCulture);
            error.Write(share >= 1 ? "\r\u001b[K" : string.Create(CultureInfo.InvariantCulture, $"\r\u001b[K{path}: {100 * share:0} %, {left} s left"));
        };
    }
}
