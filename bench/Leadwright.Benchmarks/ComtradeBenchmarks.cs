using BenchmarkDotNet.Attributes;
using Leadwright.Formats;
using Leadwright.Formats.Comtrade;

namespace Leadwright.Benchmarks;

/// <summary>Reads a COMTRADE record from memory: eight analog and sixteen status channels, a minute at 10 kHz.</summary>
[MemoryDiagnoser]
public class ComtradeBenchmarks
{
    private (InputFile Cfg, InputFile Dat) _binary;
    private (InputFile Cfg, InputFile Dat) _text;

    /// <summary>The bytes that a benchmark reads, for <see cref="ThroughputColumn"/>.</summary>
    public static long? BytesOf(string benchmark) => benchmark switch
    {
        nameof(Binary) or nameof(Copy) => ComtradeMinute.Binary().Length,
        nameof(Text) => ComtradeMinute.Text().Length,
        _ => null,
    };

    [GlobalSetup]
    public void Prepare()
    {
        _binary = (ComtradeMinute.Configuration("BINARY"), new InputFile("minute.dat", ComtradeMinute.Binary()));
        _text = (ComtradeMinute.Configuration("ASCII"), new InputFile("minute.dat", ComtradeMinute.Text()));
    }

    [Benchmark(Baseline = true, Description = "copy of the binary bytes")]
    public int Copy() => _binary.Dat.Bytes.ToArray().Length;

    [Benchmark(Description = "binary record")]
    public int Binary() => ComtradeReader.Read(_binary.Cfg, _binary.Dat).Recording.Channels[0].Samples.Length;

    [Benchmark(Description = "text record")]
    public int Text() => ComtradeReader.Read(_text.Cfg, _text.Dat).Recording.Channels[0].Samples.Length;
}
