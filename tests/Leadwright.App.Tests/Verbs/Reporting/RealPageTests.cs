using System.Runtime.CompilerServices;
using Leadwright.App.Verbs;
using Leadwright.Documents.Tests.Pages;

namespace Leadwright.App.Tests.Verbs.Reporting;

/// <summary>
/// Pages of reports on real recordings (tests/data/README.md: a steel works' half year, a substation's fault record), held against pictures that were looked at and approved.
/// To look again: run with -explicit only, look at the folder approved beside this file, commit.
/// </summary>
public sealed class RealPageTests : IDisposable
{
    // As for the invented weeks in Leadwright.Documents.Tests: another rasteriser smooths edges otherwise.
    private const double MostMean = 1.5, MostShare = 0.006;

    private static readonly Dictionary<string, string[]> s_reports = new(StringComparer.Ordinal)
    {
        ["steel-works"] = ["../../data/interval/steel-15min-2018-jan-jun.csv", "--parts", "summary,watch,load,voltage,findings,not-shown"],
        ["fault-record"] = ["../../data/comtrade/substation/xtz.cfg", "--service", "wye", "--nominal", "100", "--parts", "summary,hook-up,voltage,events,findings,data"],
    };

    private readonly string _folder = Directory.CreateTempSubdirectory("leadwright-pages-").FullName;

    public static TheoryData<string> Reports() => [.. s_reports.Keys];

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Theory]
    [MemberData(nameof(Reports))]
    public async Task Pages_look_as_they_were_approved(string name)
    {
        var pages = await PagesAsync(name);
        var approved = Directory.GetFiles(Approved(), $"{name}-*.png").Order(StringComparer.Ordinal).Select(File.ReadAllBytes).ToList();
        Assert.Equal(approved.Count, pages.Count);
        foreach (var (index, page) in pages.Index())
        {
            var (mean, share) = Rasteriser.Difference(approved[index], page);
            Assert.True(mean <= MostMean && share <= MostShare, $"Page {index + 1} of {name} is not as approved: mean difference {mean:0.00}, {100 * share:0.00} % of the dots.");
        }
    }

    [Fact(Explicit = true)]
    public async Task Approve_the_pages_anew()
    {
        foreach (var old in Directory.GetFiles(Approved(), "*.png")) File.Delete(old);
        foreach (var name in s_reports.Keys)
        {
            foreach (var (index, page) in (await PagesAsync(name)).Index())
                await File.WriteAllBytesAsync(Path.Combine(Approved(), $"{name}-{index + 1:00}.png"), page, TestContext.Current.CancellationToken);
        }
    }

    private async Task<List<byte[]>> PagesAsync(string name)
    {
        var path = Path.Combine(_folder, name + ".pdf");
        using var output = new StringWriter { NewLine = "\n" };
        using var error = new StringWriter { NewLine = "\n" };
        await LeadwrightCommand.RunAsync(["report", TestFolder.Data(s_reports[name][0]), .. s_reports[name][1..], "-o", path], output, error, TestContext.Current.CancellationToken);
        Assert.Equal("", error.ToString());
        return Rasteriser.Pages(await File.ReadAllBytesAsync(path, TestContext.Current.CancellationToken));
    }

    private static string Approved([CallerFilePath] string path = "") => Directory.CreateDirectory(Path.Combine(Path.GetDirectoryName(path)!, "approved")).FullName;
}
