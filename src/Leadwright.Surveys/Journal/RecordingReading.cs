using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json.Serialization;
using Leadwright.Formats;
using Leadwright.Formats.Comtrade;
using Leadwright.Formats.Text;

namespace Leadwright.Surveys.Journal;

/// <summary>How a recording is to be read, as it was said when it was brought in: whoever reads its originals later reads them so again.</summary>
public sealed record RecordingReading
{
    /// <summary>Which side of the instrument transformers: <c>primary</c> or <c>secondary</c>; null as recorded.</summary>
    public string? Scaling { get; init; }

    /// <summary>Samples per second of a table without times; null when not said.</summary>
    public double? RateHertz { get; init; }

    /// <summary>Headings of a table that has none; null when not said.</summary>
    public ImmutableArray<string>? Headings { get; init; }

    /// <summary>Decimal mark of a table: a point or a comma; null to find it out.</summary>
    public string? DecimalMark { get; init; }

    /// <summary>Which channel is which, as in <c>V1=UA,I1=Ia</c>; null to go by names.</summary>
    public string? Channels { get; init; }

    /// <summary>Worksheet of a workbook; null for the first that holds a log.</summary>
    public string? Sheet { get; init; }

    /// <summary>How the letters of a text are written, by a name of <see cref="TextEncodings.Names"/>; null to find it out.</summary>
    public string? Encoding { get; init; }

    /// <summary>Time of second 0 of a log whose times are counted from its own start; null when not said.</summary>
    public DateTime? Start { get; init; }

    /// <summary>Minutes that the recorder's clock is ahead of UTC, for a format whose times are UTC; null to leave them in UTC.</summary>
    public double? UtcOffsetMinutes { get; init; }

    /// <summary>True when a time is the end of its interval, in a format that doesn't say.</summary>
    public bool AreTimesEnds { get; init; }

    /// <summary>The decimal mark as a character; null when not said, or damaged.</summary>
    [JsonIgnore]
    public char? Mark => DecimalMark is { Length: 1 } text ? text[0] : null;

    /// <summary>What the clock is ahead of UTC; nothing when not said, or damaged.</summary>
    [JsonIgnore]
    public TimeSpan UtcOffset => TimeSpan.FromMinutes(UtcOffsetMinutes is { } minutes && Math.Abs(minutes) <= 24 * 60 ? minutes : 0);

    /// <summary>True when nothing was said.</summary>
    internal bool SaysNothing => this == new RecordingReading();

    /// <summary>What options say.</summary>
    /// <param name="options">The options.</param>
    /// <param name="channels">Which channel is which, as typed; null when not said.</param>
    public static RecordingReading Of(InputReadOptions options, string? channels)
    {
        ArgumentNullException.ThrowIfNull(options);
        return new RecordingReading
        {
            Scaling = options.Comtrade.Scaling switch { ComtradeScaling.Primary => "primary", ComtradeScaling.Secondary => "secondary", _ => null },
            RateHertz = options.Csv.RateHertz,
            Headings = options.Csv.Columns.IsDefaultOrEmpty ? null : options.Csv.Columns,
            DecimalMark = (options.Csv.DecimalMark ?? options.Log.DecimalMark)?.ToString(),
            Channels = channels,
            Sheet = options.Log.Sheet,
            Encoding = TextEncodings.NameOf(options.Log.Encoding),
            Start = options.Log.Start,
            UtcOffsetMinutes = options.Pqdif.UtcOffset == TimeSpan.Zero ? null : options.Pqdif.UtcOffset.TotalMinutes,
            AreTimesEnds = options.Pqdif.AreTimesEnds,
        };
    }

    /// <summary>Options with what was said.</summary>
    /// <param name="options">The options; what they say themselves stays.</param>
    public InputReadOptions ApplyTo(InputReadOptions options)
    {
        ArgumentNullException.ThrowIfNull(options);
        return options with
        {
            Comtrade = options.Comtrade with
            {
                Scaling = options.Comtrade.Scaling != ComtradeScaling.AsRecorded ? options.Comtrade.Scaling
                    : Scaling switch { "primary" => ComtradeScaling.Primary, "secondary" => ComtradeScaling.Secondary, _ => ComtradeScaling.AsRecorded },
                Encoding = options.Comtrade.Encoding ?? TextEncodings.Find(Encoding),
            },
            Csv = options.Csv with
            {
                RateHertz = options.Csv.RateHertz ?? RateHertz,
                Columns = options.Csv.Columns.IsDefaultOrEmpty ? Headings ?? [] : options.Csv.Columns,
                DecimalMark = options.Csv.DecimalMark ?? Mark,
                Encoding = options.Csv.Encoding ?? TextEncodings.Find(Encoding),
            },
            Log = options.Log with
            {
                DecimalMark = options.Log.DecimalMark ?? Mark,
                Encoding = options.Log.Encoding ?? TextEncodings.Find(Encoding),
                Sheet = options.Log.Sheet ?? Sheet,
                Start = options.Log.Start ?? Start,
                UtcOffset = options.Log.UtcOffset == TimeSpan.Zero ? UtcOffset : options.Log.UtcOffset,
            },
            Pqdif = options.Pqdif with { UtcOffset = options.Pqdif.UtcOffset == TimeSpan.Zero ? UtcOffset : options.Pqdif.UtcOffset, AreTimesEnds = options.Pqdif.AreTimesEnds || AreTimesEnds },
        };
    }

    /// <summary>Whole sentences on what was said, for people; empty when nothing was.</summary>
    public ImmutableArray<string> Says()
    {
        var says = ImmutableArray.CreateBuilder<string>();
        if (Scaling is not null) says.Add($"It is read for the {Scaling} side of the instrument transformers, as was said.");
        if (RateHertz is { } rate) says.Add(string.Create(CultureInfo.InvariantCulture, $"It is read at {rate:0.###} samples a second, as was said."));
        if (Headings is { } headings) says.Add($"Its headings are {string.Join(", ", headings)}, as was said.");
        if (DecimalMark is not null) says.Add($"Its decimal mark is the {(DecimalMark == "," ? "comma" : "point")}, as was said.");
        if (Channels is not null) says.Add($"Its channels are {Channels}, as was said.");
        if (Sheet is not null) says.Add($"Its worksheet '{Sheet}' is read, as was said.");
        if (Encoding is not null) says.Add($"Its letters are read as {Encoding}, as was said.");
        if (Start is { } start) says.Add(string.Create(CultureInfo.InvariantCulture, $"Its times count from {start:yyyy-MM-dd HH:mm:ss}, as was said."));
        if (UtcOffsetMinutes is { } minutes) says.Add(string.Create(CultureInfo.InvariantCulture, $"Its times are UTC and are given {Math.Abs(minutes):0.#} minutes {(minutes < 0 ? "earlier" : "later")}, as was said."));
        if (AreTimesEnds) says.Add("Its times are the ends of their intervals, as was said.");
        return says.ToImmutable();
    }
}
