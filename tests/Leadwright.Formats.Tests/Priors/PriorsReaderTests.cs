using System.Text;
using System.Text.RegularExpressions;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Priors;
using Leadwright.Formats.Priors;

namespace Leadwright.Formats.Tests.Priors;

public class PriorsReaderTests
{
    [Fact]
    public void What_is_written_reads_back_the_same()
    {
        var priors = CheckPriors.Default with { Slips = CheckPriors.Default.Slips with { LeadOpen = 0.0123 } };
        var text = PriorsWriter.Write(priors);
        var back = PriorsReader.Read(new InputFile("priors.json", text));
        Assert.Equal(priors.Slips, back.Slips);
        Assert.Equal(Encoding.UTF8.GetString(text), Encoding.UTF8.GetString(PriorsWriter.Write(back)));
    }

    [Fact]
    public void Every_rate_is_in_the_file_under_its_own_name()
    {
        var names = typeof(SlipRates).GetProperties().Where(property => property.PropertyType == typeof(double))
            .Select(property => Regex.Replace(property.Name, "(?<!^)([A-Z])", "_$1").ToLowerInvariant());
        Assert.Equal(names.Order(), SlipRateField.All.Select(field => field.Word).Order());
        foreach (var field in SlipRateField.All) Assert.Equal(0.321, field.Get(field.With(new SlipRates(), 0.321)));
    }

    [Fact]
    public void What_is_left_out_keeps_its_shipped_value()
    {
        var priors = Read("""{"schema":"leadwright.priors/1","slips":{"clamp_reversed":0.06},"loads":{"motors":{"anything":0.2}},"generation":{"share":0.1}}""");
        Assert.Equal(new SlipRates { ClampReversed = 0.06 }, priors.Slips);
        Assert.Equal(0.2, priors.Loads[LoadKind.Motors].Anything);
        Assert.Equal(CheckPriors.Default.Loads[LoadKind.Motors].Components, priors.Loads[LoadKind.Motors].Components);
        Assert.Equal(CheckPriors.Default.Loads[LoadKind.Mixed], priors.Loads[LoadKind.Mixed]);
        Assert.Equal(0.1, priors.Generation.Share);
        Assert.Equal(1, priors.Load(new CheckOptions { MayExport = true }).Components.Sum(part => part.Weight)
            + priors.Load(new CheckOptions { MayExport = true }).Anything + priors.Load(new CheckOptions { MayExport = true }).Independent, 1e-12);
    }

    [Theory]
    [InlineData("""{"slips":{}}""", "'$.schema'", "found nothing")]
    [InlineData("""{"schema":"leadwright.readings/1"}""", "'$.schema'", "expected \"leadwright.priors/1\"")]
    [InlineData("""{"schema":"leadwright.priors/1","slips":{"clamp_reversd":0.06}}""", "'$.slips.clamp_reversd'", "expected a known field")]
    [InlineData("""{"schema":"leadwright.priors/1","slips":{"clamp_reversed":1.5}}""", "'$.slips.clamp_reversed'", "expected a rate above 0 and below 1, found 1.5")]
    [InlineData("""{"schema":"leadwright.priors/1","slips":{"clamp_reversed":"0.1"}}""", "'$.slips.clamp_reversed'", "expected a rate above 0 and below 1, found \"0.1\"")]
    [InlineData("""{"schema":"leadwright.priors/1","slips":{"clamp_muddle":0.9,"clamp_chaos":0.2}}""", "'$.slips'", "clamp_muddle and clamp_chaos below 1 together, found 1.1")]
    [InlineData("""{"schema":"leadwright.priors/1","loads":{"ovens":{}}}""", "'$.loads.ovens'", "mixed, motors, lighting, drives, unknown")]
    [InlineData("""{"schema":"leadwright.priors/1","loads":{"mixed":{"components":[{"weight":1}]}}}""", "'$.loads.mixed.components[0].mean_degrees'", "found nothing")]
    [InlineData("""{"schema":"leadwright.priors/1","loads":{"mixed":{"components":[]}}}""", "'$.loads.mixed.components'", "found none")]
    [InlineData("""{"schema":"leadwright.priors/1","generation":{"share":2}}""", "'$.generation.share'", "expected a share from 0 to 1, found 2")]
    public void What_can_not_be_used_is_refused_with_its_field(string text, string field, string says)
    {
        var failure = Assert.Throws<FormatReadException>(() => Read(text));
        Assert.Contains(field, failure.Message, StringComparison.Ordinal);
        Assert.Contains(says, failure.Message, StringComparison.Ordinal);
    }

    private static CheckPriors Read(string text) => PriorsReader.Read(new InputFile("priors.json", Encoding.UTF8.GetBytes(text)));
}
