using System.Buffers.Binary;
using System.IO.Compression;
using System.Text;
using System.Xml.Linq;
using Leadwright.App.Verbs;

namespace Leadwright.App.Tests.Verbs.Reporting;

public sealed class ReportFiguresTests : IDisposable
{
    private static readonly string s_house = TestFolder.Data("../../data/interval/household-1min-2007-02-01.csv");

    private readonly string _folder = Directory.CreateTempSubdirectory("leadwright-figures-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public async Task Every_figure_is_written_as_drawing_and_as_picture_and_nothing_else()
    {
        var names = await FiguresAsync("a");
        Assert.NotEmpty(names);
        Assert.Equal(names.Where(name => name.EndsWith(".svg", StringComparison.Ordinal)).Select(name => name[..^4]), names.Where(name => name.EndsWith(".png", StringComparison.Ordinal)).Select(name => name[..^4]));
        Assert.Contains(names, name => name.EndsWith("-load.svg", StringComparison.Ordinal));
        Assert.Contains(names, name => name.EndsWith("-voltage.png", StringComparison.Ordinal));
        Assert.All(names, name => Assert.True(name.EndsWith(".svg", StringComparison.Ordinal) || name.EndsWith(".png", StringComparison.Ordinal), name));
    }

    [Fact]
    public async Task A_drawing_has_words_for_those_who_cannot_see_it_and_its_fonts_in_it()
    {
        foreach (var name in await FiguresAsync("a"))
        {
            if (!name.EndsWith(".svg", StringComparison.Ordinal)) continue;
            var root = XDocument.Load(Path.Combine(_folder, "a", name)).Root!;
            Assert.Equal("img", root.Attribute("role")!.Value);
            Assert.NotEmpty(root.Elements().First(element => element.Name.LocalName == "title").Value);
            Assert.Contains("font/", root.ToString(), StringComparison.Ordinal);
            Assert.DoesNotContain("http", string.Concat(root.Descendants().Attributes().Select(attribute => attribute.Value)).Replace("http://www.w3.org", "", StringComparison.Ordinal), StringComparison.Ordinal);
        }
    }

    // Read by PNG's own rules (ISO/IEC 15948: signature, chunks with CRC-32, zlib), not by the library that wrote it.
    [Fact]
    public async Task A_picture_is_a_sound_png_of_print_size_with_ink_on_it()
    {
        foreach (var name in await FiguresAsync("a"))
        {
            if (!name.EndsWith(".png", StringComparison.Ordinal)) continue;
            var (width, height, kinds) = ReadPng(await File.ReadAllBytesAsync(Path.Combine(_folder, "a", name), TestContext.Current.CancellationToken));
            Assert.True(width >= 800 && height >= 100, $"{name}: {width} by {height}");
            Assert.True(kinds > 16, $"{name} has {kinds} kinds of bytes: it is all but blank.");
        }
    }

    [Fact]
    public async Task The_same_recording_gives_the_same_figures()
    {
        var names = await FiguresAsync("a");
        Assert.Equal(names, await FiguresAsync("b"));
        foreach (var name in names) Assert.Equal(await File.ReadAllBytesAsync(Path.Combine(_folder, "a", name), TestContext.Current.CancellationToken), await File.ReadAllBytesAsync(Path.Combine(_folder, "b", name), TestContext.Current.CancellationToken));
    }

    [Fact]
    public async Task Figures_that_cannot_be_written_leave_nothing()
    {
        var blocked = Path.Combine(_folder, "blocked");
        await File.WriteAllTextAsync(blocked, "a file", TestContext.Current.CancellationToken);
        var run = await RunAsync("report", s_house, "--service", "single", "--nominal", "240", "--figures", blocked, "-o", Path.Combine(_folder, "report.html"));
        Assert.Equal(1, run.Code);
        Assert.Equal([blocked], Directory.GetFileSystemEntries(_folder));
    }

    private async Task<List<string>> FiguresAsync(string folder)
    {
        var run = await RunAsync("report", s_house, "--service", "single", "--nominal", "240", "--figures", Path.Combine(_folder, folder));
        Assert.Equal((0, ""), (run.Code, run.Error));
        return [.. Directory.GetFiles(Path.Combine(_folder, folder)).Select(path => Path.GetFileName(path)).Order(StringComparer.Ordinal)];
    }

    private static (int Width, int Height, int Kinds) ReadPng(byte[] bytes)
    {
        Assert.Equal([0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A], bytes[..8]);
        var (width, height, data, isEnded) = (0, 0, new MemoryStream(), false);
        for (var at = 8; at < bytes.Length;)
        {
            var length = BinaryPrimitives.ReadInt32BigEndian(bytes.AsSpan(at));
            var body = bytes.AsSpan(at + 4, length + 4);
            Assert.Equal(BinaryPrimitives.ReadUInt32BigEndian(bytes.AsSpan(at + 8 + length)), Crc32(body));
            switch (Encoding.ASCII.GetString(body[..4]))
            {
                case "IHDR": (width, height) = (BinaryPrimitives.ReadInt32BigEndian(body[4..]), BinaryPrimitives.ReadInt32BigEndian(body[8..])); break;
                case "IDAT": data.Write(body[4..]); break;
                case "IEND": isEnded = true; break;
            }

            at += length + 12;
        }

        Assert.True(isEnded);
        data.Position = 0;
        using var pixels = new MemoryStream();
        using (var zlib = new ZLibStream(data, CompressionMode.Decompress)) zlib.CopyTo(pixels);
        Assert.True(pixels.Length >= (long)width * height, "Fewer bytes than dots.");
        return (width, height, pixels.ToArray().Distinct().Count());
    }

    // ISO/IEC 15948 annex D.
    private static uint Crc32(ReadOnlySpan<byte> bytes)
    {
        var crc = 0xFFFFFFFFu;
        foreach (var one in bytes)
        {
            crc ^= one;
            for (var bit = 0; bit < 8; bit++) crc = (crc & 1) == 1 ? 0xEDB88320u ^ (crc >> 1) : crc >> 1;
        }

        return ~crc;
    }

    private static async Task<(int Code, string Error)> RunAsync(params string[] args)
    {
        using var output = new StringWriter { NewLine = "\n" };
        using var error = new StringWriter { NewLine = "\n" };
        return (await LeadwrightCommand.RunAsync(args, output, error, TestContext.Current.CancellationToken), error.ToString());
    }
}
