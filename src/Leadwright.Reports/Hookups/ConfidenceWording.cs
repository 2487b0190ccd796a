using System.Globalization;
using Leadwright.Core.Wording;

namespace Leadwright.Reports.Hookups;

/// <summary>Says a probability so that nobody takes it for more than it is.</summary>
public static class ConfidenceWording
{
    /// <summary>A probability in percent: <c>99 %</c>, <c>99.7 %</c>, <c>more than 99.9 %</c>, <c>less than 0.1 %</c>. It never
    /// reads 100 % or 0 %.</summary>
    /// <param name="probability">From 0 to 1.</param>
    public static string Percent(double probability)
    {
        if (probability > 0.999) return Say.Of("confidence.more-than", "more than 99.9 %");
        if (probability < 0.001) return Say.Of("confidence.less-than", "less than 0.1 %");
        var percent = 100 * probability;
        var format = percent is >= 99 or < 1 ? "0.0" : "0";
        var figure = percent.ToString(format, CultureInfo.InvariantCulture);
        return figure switch
        {
            "99.0" => "99 %",
            "1.0" => "1 %",
            _ => figure + " %",
        };
    }

    /// <summary>A probability in words: from <c>all but certain</c> down to <c>one of several possibilities</c>.</summary>
    /// <param name="probability">From 0 to 1.</param>
    public static string Words(double probability) => probability switch
    {
        > 0.999 => Say.Of("confidence.all-but-certain", "all but certain"),
        >= 0.95 => Say.Of("confidence.very-likely", "very likely"),
        >= 0.8 => Say.Of("confidence.likely", "likely"),
        > 0.5 => Say.Of("confidence.more-likely-than-not", "more likely than not"),
        _ => Say.Of("confidence.one-of-several-possibilities", "one of several possibilities"),
    };

    /// <summary>The probability as it is written to files: four significant digits, and never above 0.9999, since no reading
    /// makes a hook-up certain.</summary>
    /// <param name="probability">From 0 to 1; a value that is no number counts as 0.</param>
    public static double Rounded(double probability)
    {
        if (!(probability > 0)) return 0;
        var digits = Math.Clamp(3 - (int)Math.Floor(Math.Log10(probability)), 4, 12);
        return Math.Min(Math.Round(probability, digits), 0.9999);
    }
}
