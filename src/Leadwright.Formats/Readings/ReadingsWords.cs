using System.Collections.Frozen;
using Leadwright.Core.Hookups;

namespace Leadwright.Formats.Readings;

/// <summary>The words of a readings file, once for reader and writer.</summary>
internal static class ReadingsWords
{
    public const string Schema = "leadwright.readings/1";
    public const string SchemaFamily = "leadwright.readings/";
    public const string Auto = "auto";
    public const string NeutralToGround = "VNG";

    /// <summary>True for the voltage from the neutral lead to the ground lead, named either way round.</summary>
    public static bool IsNeutralToGround(string name, out bool isTurned)
    {
        isTurned = string.Equals(name, "VGN", StringComparison.OrdinalIgnoreCase);
        return isTurned || string.Equals(name, NeutralToGround, StringComparison.OrdinalIgnoreCase);
    }


    public static IReadOnlyList<(string Word, AngleSign Value)> Angles { get; } =
        [("lead-positive", AngleSign.LeadPositive), ("lag-positive", AngleSign.LagPositive)];

    public static IReadOnlyList<(string Word, CurrentAngleReference Value)> CurrentAngles { get; } =
        [("common", CurrentAngleReference.Common), ("own-voltage", CurrentAngleReference.OwnVoltage)];

    public static IReadOnlyList<(string Word, PowerSign Value)> Watts { get; } =
        [("load-positive", PowerSign.LoadPositive), ("load-negative", PowerSign.LoadNegative)];

    /// <summary>A number for a message.</summary>
    public static string Number(double value) => value.ToString("0.####", System.Globalization.CultureInfo.InvariantCulture);

    /// <summary>True for a frequency that a low-voltage supply can have, its nominal 50 or 60 Hz with room for a generator.</summary>
    public static bool IsFrequency(double hertz) => hertz is >= 40 and <= 70;

    /// <summary>Channel names; those with the leads the other way round are the same channel turned by half a cycle.</summary>
    public static FrozenDictionary<string, (Channel Channel, bool IsTurned)> Channels { get; } = ChannelNames();

    private static FrozenDictionary<string, (Channel Channel, bool IsTurned)> ChannelNames()
    {
        var names = new Dictionary<string, (Channel, bool)>(StringComparer.OrdinalIgnoreCase);
        foreach (var channel in Enum.GetValues<Channel>())
        {
            var name = channel.ToString();
            names[name] = (channel, false);
            // IEC writes U for voltage.
            if (name[0] == 'V') names["U" + name[1..]] = (channel, false);
            if (name is not ['V', var from, var to]) continue;
            names[$"V{to}{from}"] = (channel, true);
            names[$"U{to}{from}"] = (channel, true);
        }

        return names.ToFrozenDictionary(StringComparer.OrdinalIgnoreCase);
    }
}
