using System.Diagnostics;
using SkiaSharp;

namespace Leadwright.Documents.Tests.Pages;

/// <summary>Makes pictures of pages with a program that nobody here wrote: pdftoppm of Debian's poppler-utils.</summary>
internal static class Rasteriser
{
    /// <summary>Dots to the inch of the pictures: enough to see a heading that moved, small enough to keep.</summary>
    public const int Dpi = 50;

    /// <summary>The pages of a file, in grey, as PNG.</summary>
    public static List<byte[]> Pages(byte[] pdf)
    {
        var folder = Directory.CreateTempSubdirectory("leadwright-pages-").FullName;
        try
        {
            var file = Path.Combine(folder, "file.pdf");
            File.WriteAllBytes(file, pdf);
            Run("pdftoppm", "-r", $"{Dpi}", "-gray", "-png", file, Path.Combine(folder, "page"));
            return [.. Directory.GetFiles(folder, "page*.png").Order(StringComparer.Ordinal).Select(File.ReadAllBytes)];
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    /// <summary>Runs a program of the system.</summary>
    /// <exception cref="InvalidOperationException">It is not there, or it failed: the test fails, it is never left out.</exception>
    public static void Run(string program, params string[] args)
    {
        try
        {
            using var process = Process.Start(new ProcessStartInfo(program, args) { RedirectStandardError = true, RedirectStandardOutput = true })!;
            var said = process.StandardOutput.ReadToEndAsync();
            var complained = process.StandardError.ReadToEnd();
            process.WaitForExit();
            if (process.ExitCode != 0) throw new InvalidOperationException($"{program} {string.Join(' ', args)}: {complained}{said.Result}");
        }
        catch (System.ComponentModel.Win32Exception failure)
        {
            throw new InvalidOperationException($"{program} is not installed. On Debian: apt-get install poppler-utils qpdf. Elsewhere: the poppler and qpdf programs, on the path.", failure);
        }
    }

    /// <summary>How far apart two pictures of a page are: the mean difference of their dots in grey levels, and the share of dots that differ by more than a quarter of the scale.</summary>
    public static (double Mean, double Share) Difference(byte[] first, byte[] second)
    {
        using var left = SKBitmap.Decode(first);
        using var right = SKBitmap.Decode(second);
        if (left.Width != right.Width || left.Height != right.Height) return (255, 1);
        var (sum, far) = (0L, 0);
        for (var y = 0; y < left.Height; y++)
        {
            for (var x = 0; x < left.Width; x++)
            {
                var difference = Math.Abs(left.GetPixel(x, y).Green - right.GetPixel(x, y).Green);
                sum += difference;
                if (difference > 64) far++;
            }
        }

        var count = (double)left.Width * left.Height;
        return (sum / count, far / count);
    }
}
