using System.Globalization;

namespace Leadwright.App.Tests.Verbs.Measuring;

/// <summary>Writes a COMTRADE recording of a 230/400 V panel: closed forms, so that every figure of it is known.</summary>
internal static class WrittenRecording
{
    public const double Rate = 6400;

    /// <summary>V1 V2 V3 at 230 V with 3 % of 5th harmonic, I1 I2 I3 at 40 A lagging by 30°; V2 dips to 60 % from 3.0 to 3.2 s.</summary>
    public static string Write(string folder, string name, double seconds, double hertz = 50, bool hasDip = true, double missingFrom = -1)
    {
        var count = (int)(seconds * Rate);
        var culture = CultureInfo.InvariantCulture;
        using (var cfg = new StreamWriter(Path.Combine(folder, name + ".cfg")) { NewLine = "\r\n" })
        {
            cfg.WriteLine("invented panel,bench,2013");
            cfg.WriteLine("6,6A,0D");
            for (var channel = 0; channel < 6; channel++)
            {
                var isVoltage = channel < 3;
                cfg.WriteLine(string.Create(culture,
                    $"{channel + 1},{(isVoltage ? "V" : "I")}{(channel % 3) + 1},{"ABC"[channel % 3]},,{(isVoltage ? "V" : "A")},{(isVoltage ? 0.02 : 0.01)},0,0,-32767,32767,1,1,P"));
            }

            cfg.WriteLine("50");
            cfg.WriteLine("1");
            cfg.WriteLine(string.Create(culture, $"{Rate},{count}"));
            cfg.WriteLine("02/03/2026,10:00:00.000000");
            cfg.WriteLine("02/03/2026,10:00:00.000000");
            cfg.WriteLine("BINARY");
            cfg.WriteLine("1");
        }

        using var dat = new BinaryWriter(File.Create(Path.Combine(folder, name + ".dat")));
        for (var index = 0; index < count; index++)
        {
            var time = index / Rate;
            // A gap of ten seconds in the stamps.
            var stamp = missingFrom >= 0 && time >= missingFrom ? time + 10 : time;
            dat.Write((uint)(index + 1));
            dat.Write((uint)Math.Round(stamp * 1e6));
            for (var phase = 0; phase < 3; phase++)
            {
                var angle = (2 * Math.PI * hertz * time) - (phase * 2 * Math.PI / 3);
                var dip = hasDip && phase == 1 && time is >= 3.0 and < 3.2 ? 0.6 : 1;
                dat.Write((short)Math.Round(dip * 230 * Math.Sqrt(2) * (Math.Cos(angle) + (0.03 * Math.Cos(5 * angle))) / 0.02));
            }

            for (var phase = 0; phase < 3; phase++)
                dat.Write((short)Math.Round(40 * Math.Sqrt(2) * Math.Cos((2 * Math.PI * hertz * time) - (phase * 2 * Math.PI / 3) - (Math.PI / 6)) / 0.01));
        }

        return Path.Combine(folder, name + ".cfg");
    }
}
