using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Formats.Text;

namespace Leadwright.Formats.Comtrade;

/// <summary>Reads the configuration of a COMTRADE record (.cfg) in any of its three layouts.</summary>
/// <remarks>
/// The layout is told by the number of fields in the channel lines, since recorders write wrong revision years; the year
/// decides only where the lines leave it open. Fields: C37.111-2013 clause 7.4.
/// </remarks>
public static class ComtradeConfigurationReader
{
    private const int MostChannels = 999_999;

    /// <summary>Reads a configuration.</summary>
    /// <param name="cfg">The content of the .cfg file.</param>
    /// <param name="name">Display name of the file.</param>
    /// <param name="warnings">Receives what was put up with.</param>
    /// <exception cref="FormatReadException">The text is no configuration.</exception>
    public static ComtradeConfiguration Read(ReadOnlySpan<byte> cfg, string name, ICollection<ReadWarning> warnings)
    {
        ArgumentNullException.ThrowIfNull(warnings);
        return Read(SourceText.Lines(cfg, name), name, warnings);
    }

    internal static ComtradeConfiguration Read(
        IReadOnlyList<SourceLine> lines, string name, ICollection<ReadWarning> warnings)
    {
        var noted = new List<ReadWarning>();
        var cursor = new ComtradeLineCursor(lines, name, noted);
        var station = ReadStation(cursor);
        var (analogCount, statusCount) = ReadChannelTotals(cursor);
        var (analogs, hasTenFields) = ReadAnalogs(cursor, analogCount);
        var (statuses, hasThreeFields) = ReadStatuses(cursor, statusCount);
        var revision = RevisionOf(station.Year, hasTenFields ?? hasThreeFields);
        if (station.Year.Length > 0 && revision == ComtradeRevision.Rev1991 && YearOf(station.Year) >= 1999)
        {
            noted.Add(new ReadWarning(
                $"The revision year says {station.Year}, but the channel lines have the fields of 1991 and are read so.", 1));
        }

        var frequency = ReadLineFrequency(cursor);
        var rates = ReadRates(cursor);
        var (start, trigger) = ReadTimes(cursor, revision);
        var dataType = ReadDataType(cursor);
        var configuration = new ComtradeConfiguration
        {
            StationName = station.Name,
            DeviceId = station.Device,
            RevisionText = station.Year,
            Revision = revision,
            Analogs = analogs,
            Statuses = statuses,
            LineFrequencyHertz = frequency > 0 ? frequency : null,
            Rates = rates,
            Start = start,
            Trigger = trigger,
            DataType = dataType,
        };
        configuration = ReadTail(cursor, configuration);
        foreach (var warning in noted) warnings.Add(warning);
        return configuration;
    }

    private static (string Name, string Device, string Year) ReadStation(ComtradeLineCursor cursor)
    {
        cursor.Take("the station line: name, recorder, revision year");
        if (cursor.FieldCount > 3 && YearOf(cursor.Field(cursor.FieldCount - 1)) > 0)
        {
            cursor.Warn("The station line has more than three fields; a name holds a comma. The last field is taken as the year.");
            var last = cursor.FieldCount - 1;
            return (string.Join(',', Enumerable.Range(0, last - 1).Select(cursor.Field)), cursor.Field(last - 1), cursor.Field(last));
        }

        return (cursor.Field(0), cursor.Field(1), cursor.Field(2));
    }

    private static (int Analogs, int Statuses) ReadChannelTotals(ComtradeLineCursor cursor)
    {
        cursor.Take("the channel totals, such as 8,6A,2D");
        const string expected = "the channel totals, such as 8,6A,2D";
        const string hint = "The second line of a .cfg states the number of channels. Check that this is a COMTRADE .cfg file.";
        if (cursor.FieldCount < 3) throw cursor.BadLine(expected, hint);
        var first = cursor.Field(1);
        var second = cursor.Field(2);
        var isSwapped = first.EndsWith("D", StringComparison.OrdinalIgnoreCase)
            && second.EndsWith("A", StringComparison.OrdinalIgnoreCase);
        if (isSwapped) (first, second) = (second, first);
        if (!TryCount(first, 'A', out var analogs) || !TryCount(second, 'D', out var statuses))
            throw cursor.BadLine(expected, hint);
        if (analogs + statuses == 0)
            throw cursor.BadLine("at least one channel", "The record holds no channels: export it again with its analog channels.");
        if (!Number.TryParse(cursor.Field(0), out var total) || total != analogs + statuses)
        {
            cursor.Warn(string.Create(CultureInfo.InvariantCulture,
                $"The total says {Quoted.Of(cursor.Field(0))}, but {analogs} analog and {statuses} status channels are stated; these are read."));
        }

        return (analogs, statuses);
    }

    private static bool TryCount(string field, char letter, out int count)
    {
        var digits = field.TrimEnd(letter, char.ToLowerInvariant(letter), ' ');
        return int.TryParse(digits, NumberStyles.None, CultureInfo.InvariantCulture, out count) && count <= MostChannels;
    }

    private static (ImmutableArray<ComtradeAnalogChannel> Channels, bool? HasTenFields) ReadAnalogs(
        ComtradeLineCursor cursor, int count)
    {
        var channels = ImmutableArray.CreateBuilder<ComtradeAnalogChannel>();
        bool? hasTenFields = null;
        for (var index = 0; index < count; index++)
        {
            cursor.Take(string.Create(CultureInfo.InvariantCulture, $"the line of analog channel {index + 1} of {count}"));
            if (cursor.FieldCount < 10)
            {
                throw cursor.BadLine(
                    string.Create(CultureInfo.InvariantCulture,
                        $"analog channel {index + 1} of {count}, a line of 10 fields (1991) or 13 (1999, 2013)"),
                    "Either the channel totals in line 2 are wrong or a line is missing.");
            }

            var hasRatio = cursor.FieldCount >= 13;
            hasTenFields ??= !hasRatio;
            channels.Add(ReadAnalog(cursor, index, hasRatio));
        }

        return (channels.ToImmutable(), hasTenFields);
    }

    private static ComtradeAnalogChannel ReadAnalog(ComtradeLineCursor cursor, int index, bool hasRatio)
    {
        RefuseShiftedFields(cursor, hasRatio);
        return new ComtradeAnalogChannel
        {
            Number = Number.TryParse(cursor.Field(0), out var number) && Math.Abs(number) <= MostChannels ? (int)number : index + 1,
            Id = cursor.Field(1),
            Phase = cursor.Field(2),
            Component = cursor.Field(3),
            Unit = cursor.Field(4),
            Multiplier = cursor.Number(5, "a"),
            Offset = cursor.NumberOr(6, "b", 0),
            SkewSeconds = cursor.NumberOr(7, "skew", 0) * 1e-6,
            Minimum = cursor.NumberOr(8, "min", double.NaN),
            Maximum = cursor.NumberOr(9, "max", double.NaN),
            Primary = hasRatio ? cursor.NumberOr(10, "primary", double.NaN) : double.NaN,
            Secondary = hasRatio ? cursor.NumberOr(11, "secondary", double.NaN) : double.NaN,
            Side = !hasRatio ? ComtradeSide.NotStated : cursor.Field(12) switch
            {
                "P" or "p" => ComtradeSide.Primary,
                "S" or "s" => ComtradeSide.Secondary,
                _ => ComtradeSide.NotStated,
            },
        };
    }

    // A comma within a name or a number moves all fields behind it: better no value than one of another field.
    private static void RefuseShiftedFields(ComtradeLineCursor cursor, bool hasRatio)
    {
        var needed = hasRatio ? 13 : 10;
        var isLong = Enumerable.Range(needed, cursor.FieldCount - needed).Any(index => cursor.Field(index).Length > 0);
        var side = hasRatio ? cursor.Field(12).ToUpperInvariant() : "";
        if (hasRatio && isLong && side is "P" or "S")
        {
            cursor.Warn("The line has more than 13 fields; those after the thirteenth are left out.");
        }
        else if (isLong || Number.TryParse(side, out _))
        {
            throw cursor.BadLine("an analog channel line of 10 fields (1991) or 13 (1999, 2013)",
                "A name may hold a comma, or numbers a decimal comma: take the extra commas out in a copy of the .cfg.");
        }
    }

    private static (ImmutableArray<ComtradeStatusChannel> Channels, bool? HasThreeFields) ReadStatuses(
        ComtradeLineCursor cursor, int count)
    {
        var channels = ImmutableArray.CreateBuilder<ComtradeStatusChannel>();
        bool? hasThreeFields = null;
        for (var index = 0; index < count; index++)
        {
            cursor.Take(string.Create(CultureInfo.InvariantCulture, $"the line of status channel {index + 1} of {count}"));
            if (cursor.FieldCount is < 3 or > 9)
            {
                throw cursor.BadLine(
                    string.Create(CultureInfo.InvariantCulture,
                        $"status channel {index + 1} of {count}, a line of 3 fields (1991) or 5 (1999, 2013)"),
                    "Either the channel totals in line 2 are wrong or a line is missing.");
            }

            var hasPhase = cursor.FieldCount >= 5;
            hasThreeFields ??= !hasPhase;
            channels.Add(new ComtradeStatusChannel
            {
                Number = Number.TryParse(cursor.Field(0), out var number) && Math.Abs(number) <= MostChannels ? (int)number : index + 1,
                Id = cursor.Field(1),
                Phase = hasPhase ? cursor.Field(2) : "",
                Component = hasPhase ? cursor.Field(3) : "",
                IsNormallyOn = cursor.Field(hasPhase ? 4 : cursor.FieldCount - 1) == "1",
            });
        }

        return (channels.ToImmutable(), hasThreeFields);
    }

    private static ComtradeRevision RevisionOf(string year, bool? hasShortLines)
    {
        var stated = YearOf(year);
        if (hasShortLines == true || (hasShortLines is null && stated < 1999)) return ComtradeRevision.Rev1991;
        return stated >= 2013 ? ComtradeRevision.Rev2013 : ComtradeRevision.Rev1999;
    }

    private static int YearOf(string text) =>
        text.Length == 4 && int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var year) ? year : 0;

    private static double ReadLineFrequency(ComtradeLineCursor cursor)
    {
        // An empty line frequency leaves a blank line, which the cursor passes over: then the number of rates comes next,
        // and a rate with its two fields after it.
        var isMissing = cursor.Peek(1) is { } second && second.Contains(',', StringComparison.Ordinal)
            && !second.Contains(':', StringComparison.Ordinal) && cursor.Peek(2) is { } third
            && third.Contains(',', StringComparison.Ordinal);
        if (isMissing)
        {
            cursor.Warn("The line frequency is not stated.");
            return 0;
        }

        cursor.Take("the line frequency in hertz");
        if (cursor.FieldCount > 2)
            throw cursor.BadLine("the line frequency in hertz", "There may be more channel lines than line 2 states.");
        return cursor.NumberOr(0, "line frequency", 0);
    }

    private static ImmutableArray<ComtradeRate> ReadRates(ComtradeLineCursor cursor)
    {
        cursor.Take("the number of sampling rates");
        var count = cursor.Whole(0, "nrates", 999_999);
        if (count == 0 && cursor.Peek() is { } next && next.Contains(':', StringComparison.Ordinal))
        {
            cursor.Warn("The line with the last sample number is missing; as many samples as the data holds are read.");
            return [new ComtradeRate(0, 0)];
        }

        var rates = ImmutableArray.CreateBuilder<ComtradeRate>();
        for (var index = 0; index < Math.Max(count, 1); index++)
        {
            cursor.Take(string.Create(CultureInfo.InvariantCulture, $"sampling rate {index + 1} of {count} with its last sample number"));
            if (cursor.FieldCount < 2)
                throw cursor.BadLine("a sampling rate and its last sample number, such as 1200,40");
            var rate = count == 0 ? 0 : cursor.Number(0, "samp");
            if (rate < 0) throw cursor.Bad(0, "samp", "a rate of zero or more");
            var last = cursor.Whole(1, "endsamp", int.MaxValue);
            if (index > 0 && last < rates[^1].LastSampleNumber)
            {
                throw cursor.Bad(1, "endsamp",
                    string.Create(CultureInfo.InvariantCulture, $"a sample number of at least {rates[^1].LastSampleNumber}"),
                    "The field holds the number of the last sample at the rate, not how many there are at it.");
            }

            rates.Add(new ComtradeRate(rate, last));
        }

        return rates.ToImmutable();
    }

    private static (ComtradeTime? Start, ComtradeTime? Trigger) ReadTimes(ComtradeLineCursor cursor, ComtradeRevision revision)
    {
        cursor.Take("the time of the first sample");
        RefuseOtherThanTime(cursor);
        var startText = (Date: cursor.Field(0), Time: cursor.Field(1));
        var startLine = cursor.LineNumber;
        cursor.Take("the time of the trigger");
        RefuseOtherThanTime(cursor);
        var triggerText = (Date: cursor.Field(0), Time: cursor.Field(1));

        var isMonthFirst = revision == ComtradeRevision.Rev1991;
        var (start, trigger) = Parse(isMonthFirst);
        if (start is null || trigger is null)
        {
            var (otherStart, otherTrigger) = Parse(!isMonthFirst);
            if (otherStart is not null && (otherTrigger is not null || trigger is null))
            {
                cursor.Warn(string.Create(CultureInfo.InvariantCulture,
                    $"The dates in lines {startLine} and {cursor.LineNumber} only make sense with the {(isMonthFirst ? "day" : "month")} first and are read so."));
                (start, trigger) = (otherStart, otherTrigger);
            }
        }

        if (start is null)
        {
            cursor.Warn(string.Create(CultureInfo.InvariantCulture,
                $"The time of the first sample in line {startLine}, {Quoted.Of($"{startText.Date},{startText.Time}")}, is no date and time; the recording has no date."));
        }

        if (trigger is null)
            cursor.Warn($"The time of the trigger, {Quoted.Of($"{triggerText.Date},{triggerText.Time}")}, is no date and time.");
        return (start, trigger);

        (ComtradeTime? Start, ComtradeTime? Trigger) Parse(bool monthFirst) => (
            ComtradeDateText.TryParse(startText.Date, startText.Time, monthFirst),
            ComtradeDateText.TryParse(triggerText.Date, triggerText.Time, monthFirst));
    }

    private static void RefuseOtherThanTime(ComtradeLineCursor cursor)
    {
        if (cursor.FieldCount == 2) return;
        throw cursor.BadLine("a date and a time, such as 31/01/2026,23:59:59.000000",
            "There may be more sampling rates than the number of rates states, or fewer.");
    }

    private static ComtradeDataType ReadDataType(ComtradeLineCursor cursor)
    {
        cursor.Take("the file type: ASCII, BINARY, BINARY32 or FLOAT32");
        return TryDataType(cursor.Field(0))
            ?? throw cursor.Bad(0, "ft", "the file type ASCII, BINARY, BINARY32 or FLOAT32");
    }

    internal static ComtradeDataType? TryDataType(string text) => text.Trim().ToUpperInvariant() switch
    {
        "ASCII" => ComtradeDataType.Ascii,
        "BINARY" => ComtradeDataType.Binary,
        "BINARY32" => ComtradeDataType.Binary32,
        "FLOAT32" => ComtradeDataType.Float32,
        _ => null,
    };

    // Everything after the file type came with a later revision and may be missing, whatever the year says.
    private static ComtradeConfiguration ReadTail(ComtradeLineCursor cursor, ComtradeConfiguration configuration)
    {
        if (!cursor.TryTake()) return configuration;
        var multiplier = cursor.NumberOr(0, "timemult", 1);
        if (multiplier <= 0)
        {
            cursor.Warn($"The time multiplier is {Quoted.Of(cursor.Field(0))}; 1 is taken.");
            multiplier = 1;
        }

        configuration = configuration with { TimeMultiplier = multiplier };
        if (!cursor.TryTake()) return configuration;
        configuration = configuration with { TimeCode = cursor.Field(0), LocalCode = cursor.Field(1) };
        if (!cursor.TryTake()) return configuration;
        configuration = configuration with { TimeQualityCode = cursor.Field(0), LeapSecond = cursor.Field(1) };
        if (cursor.TryTake()) cursor.Warn("There is more text after the time quality line; it is left out.");
        return configuration;
    }
}
