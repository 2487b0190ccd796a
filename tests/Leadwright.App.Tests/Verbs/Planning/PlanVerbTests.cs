using System.Text.Json;
using System.Xml.Linq;
using Leadwright.App.Verbs;

namespace Leadwright.App.Tests.Verbs.Planning;

public sealed class PlanVerbTests : IDisposable
{
    private readonly string _root = Directory.CreateTempSubdirectory("leadwright-plan-").FullName;

    public void Dispose() => Directory.Delete(_root, recursive: true);

    [Fact]
    public async Task A_plan_says_what_to_expect_and_how_long()
    {
        var run = await RunAsync("plan", "--service", "wye", "--nominal", "230/400", "--for", "load,voltage", "--kw", "30", "--format", "json");
        Assert.Equal((0, ""), (run.Code, run.Error));
        var json = JsonDocument.Parse(Assert.Single(run.Output.TrimEnd('\n').Split('\n'))).RootElement;
        Assert.Equal("leadwright.plan/1", json.GetProperty("schema").GetString());
        Assert.Equal(230, json.GetProperty("channels").GetProperty("V1").GetProperty("rms").GetDouble());
        Assert.Equal((60, 7), (json.GetProperty("interval_seconds").GetDouble(), json.GetProperty("days").GetDouble()));

        // P = √3 V I cos φ with a power factor between 0.9 and 0.97: 44.6 to 48.2 A.
        Assert.InRange(json.GetProperty("line_amperes").GetDouble(), 44.6, 48.2);
        Assert.Equal(2, json.GetProperty("needs").GetArrayLength());
        Assert.Equal("B", json.GetProperty("hookup").GetProperty("I2").GetProperty("on").GetString());
    }

    [Fact]
    public async Task What_does_not_fit_is_said_first_and_in_the_exit_code()
    {
        var run = await RunAsync(
            "plan", "--service", "delta", "--nominal", "480", "--amps", "12", "--clamp-range", "1000", "--memory", "1", "--battery", "1", "--outage", "6");
        Assert.Equal((10, ""), (run.Code, run.Error));
        Assert.Contains("  ! The expected load is 1.2 % of the clamps' range", run.Output, StringComparison.Ordinal);
        Assert.Contains("A range of 50 A suits.", run.Output, StringComparison.Ordinal);
        Assert.Contains("  ! The memory is full after 4 of 7 days.", run.Output, StringComparison.Ordinal);
        Assert.Contains("  ! The battery lasts 1 hours", run.Output, StringComparison.Ordinal);
        Assert.Contains("Only qualified persons", run.Output, StringComparison.Ordinal);
        Assert.All(run.Output.Split('\n'), line => Assert.True(line.Length <= 80, line));
    }

    [Theory]
    [InlineData("wye", "230/400", "iec-60445", 4, "brown")]
    [InlineData("high-leg", "120/240", "us-high-leg", 4, "orange")]
    [InlineData("single", "230", "uk-before-2006", 2, "red")]
    public async Task The_sheet_to_print_is_whole_in_itself_and_has_the_sites_colours(string service, string nominal, string colours, int bars, string word)
    {
        var path = Path.Combine(_root, "plan.html");
        var run = await RunAsync(
            "plan", "--service", service, "--nominal", nominal, "--colours", colours, "--site", "Mill <north> & south", "--amps", "20", "-o", path);
        Assert.Equal((0, ""), (run.Code, run.Error));
        var html = await File.ReadAllTextAsync(path, TestContext.Current.CancellationToken);
        Assert.DoesNotContain("<script", html, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("src=", html, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("Mill &lt;north&gt; &amp; south", html, StringComparison.Ordinal);
        var svg = XElement.Parse(html[html.IndexOf("<svg", StringComparison.Ordinal)..(html.IndexOf("</svg>", StringComparison.Ordinal) + 6)]);
        Assert.Contains(word, svg.ToString(), StringComparison.Ordinal);
        Assert.Equal(bars, svg.Descendants().Count(element => element.Attribute("data-lead") is not null));
        Assert.Equal(2, html.Split("<div class=\"lists\">").Length);
        Assert.Contains("class=\"box\"", html, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("State the service", "plan", "--nominal", "230/400")]
    [InlineData("State the nominal voltage", "plan", "--service", "wye")]
    [InlineData("is no nominal voltage", "plan", "--service", "wye", "--nominal", "230/300")]
    [InlineData("'gas' is none of load, spare-capacity", "plan", "--service", "wye", "--nominal", "230/400", "--for", "gas")]
    [InlineData("The expected power must be above 0", "plan", "--service", "wye", "--nominal", "230/400", "--kw", "-3")]
    [InlineData("does not end in .pdf or .html", "plan", "--service", "wye", "--nominal", "230/400", "-o", "plan.txt")]
    public async Task Wrong_usage_says_what_was_expected(string says, params string[] args)
    {
        var run = await RunAsync(args);
        Assert.Equal((2, ""), (run.Code, run.Output));
        Assert.Contains(says, run.Error, StringComparison.Ordinal);
    }

    private static async Task<(int Code, string Output, string Error)> RunAsync(params string[] args)
    {
        using var output = new StringWriter { NewLine = "\n" };
        using var error = new StringWriter { NewLine = "\n" };
        var code = await LeadwrightCommand.RunAsync(args, output, error, TestContext.Current.CancellationToken);
        return (code, output.ToString(), error.ToString());
    }
}
