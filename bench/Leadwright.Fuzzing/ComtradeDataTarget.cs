using System.Buffers.Binary;
using Leadwright.Core.Signals;
using Leadwright.Formats;
using Leadwright.Formats.Comtrade;

namespace Leadwright.Fuzzing;

/// <summary>The data of COMTRADE records, binary and text, with their sound configurations.</summary>
/// <remarks>The check of silent wrong readings: one value of binary data is changed; every other value must be what it was, and this one must be what the
/// standard's formula gives of the new count.</remarks>
internal sealed class ComtradeDataTarget : FuzzTarget
{
    private readonly (byte[] Cfg, byte[] Dat)[] _pairs =
    [
        (Seed("sample_bin.cfg"), Seed("sample_bin.dat")), (Seed("sample_ascii.cfg"), Seed("sample_ascii.dat")), (Seed("sample_iso8859-1_bin.cfg"), Seed("sample_iso8859-1_bin.dat")),
    ];

    private readonly SampledRecording _sound;
    private readonly byte[] _cfg = Seed("sample_bin.cfg");
    private readonly byte[] _dat = Seed("sample_bin.dat");

    public ComtradeDataTarget() => _sound = ComtradeReader.Read(new InputFile("f.cfg", _cfg), new InputFile("f.dat", _dat)).Recording;

    public override string Name => "comtrade-dat";

    // The first byte says which configuration belongs to the data.
    public override byte[] Make(Random chance)
    {
        var pair = chance.Next(_pairs.Length);
        var others = _pairs.Select(one => one.Dat).ToArray();
        return [(byte)pair, .. pair == 1 ? Mutation.OfText(_pairs[pair].Dat, others, chance) : Mutation.OfBytes(_pairs[pair].Dat, others, chance)];
    }

    public override bool Read(byte[] input)
    {
        if (input.Length == 0) return false;
        try
        {
            _ = ComtradeReader.Read(new InputFile("f.cfg", _pairs[input[0] % _pairs.Length].Cfg), new InputFile("f.dat", input.AsMemory(1)));
            return true;
        }
        catch (FormatReadException)
        {
            return false;
        }
    }

    public override byte[] ReadChanged(Random chance)
    {
        // Records of 8 bytes head, 4 counts of 2 bytes, and one word of the 16 states.
        const int Record = 18;
        var (row, channel) = (chance.Next(_dat.Length / Record), chance.Next(4));
        var count = (short)chance.Next(-32767, 32767);
        var changed = _dat.ToArray();
        BinaryPrimitives.WriteInt16LittleEndian(changed.AsSpan((row * Record) + 8 + (2 * channel)), count);
        byte[] input = [0, .. changed];
        var read = ComtradeReader.Read(new InputFile("f.cfg", _cfg), new InputFile("f.dat", changed)).Recording;
        if (!read.Segments.SequenceEqual(_sound.Segments)) throw new FuzzFailureException("a value changed the times") { Input = input };
        for (var other = 0; other < 4; other++)
        {
            for (var at = 0; at < _dat.Length / Record; at++)
            {
                var (was, now) = (_sound.Channels[other].Samples.Span[at], read.Channels[other].Samples.Span[at]);
                if ((at, other) != (row, channel) && !was.Equals(now)) throw new FuzzFailureException($"changing row {row} of channel {channel} changed row {at} of channel {other}") { Input = input };
            }
        }

        // y = a·x + b, in kV by the configuration; its primary side is stated, with the ratio 120 to 1 (60 to 1 for the neutral).
        double[] multipliers = [0.000361849, 0.000365758, 0.000371569, 0.000016493];
        var wanted = multipliers[channel] * count * 1000;
        if (Math.Abs(read.Channels[channel].Samples.Span[row] - wanted) > 1e-6 + (1e-9 * Math.Abs(wanted)))
            throw new FuzzFailureException($"count {count} of channel {channel} reads {read.Channels[channel].Samples.Span[row]} where {wanted} is due") { Input = input };
        return input;
    }

    private static byte[] Seed(string name) => FuzzTargets.Data("comtrade/basic", name)[0];
}
