using System.Text.RegularExpressions;
using Leadwright.Core.Circuits;

namespace Leadwright.Core.Tests.Circuits;

public sealed partial class ConductorColoursTests
{
    private static IReadOnlyList<IReadOnlyDictionary<string, string>> Rows =>
        RepositoryFile.Table("vectors/conductor-colours/conductor_colours.csv");

    [Fact]
    public void Every_scheme_is_the_one_of_the_table()
    {
        Assert.Equal(Rows.Count, ConductorColours.All.Length);
        foreach (var row in Rows)
        {
            var scheme = Assert.Single(
                ConductorColours.All, candidate => candidate.Region == row["region"] && candidate.System == row["system"]);
            Assert.Equal(row["L1"], Words(scheme, Conductor.A));
            Assert.Equal(row["L2"], Words(scheme, Conductor.B));
            Assert.Equal(row["L3"], Words(scheme, Conductor.C));
            Assert.Equal(row["neutral"], Words(scheme, Conductor.N));
            Assert.Equal(row["protective"], Words(scheme, Conductor.G));
            Assert.Equal(row["basis"], scheme.Basis);
        }
    }

    [Fact]
    public void Ids_are_unique_and_plain()
    {
        Assert.Equal(ConductorColours.All.Length, ConductorColours.All.Select(scheme => scheme.Id).Distinct().Count());
        Assert.All(ConductorColours.All, scheme => Assert.Matches("^[a-z0-9-]+$", scheme.Id));
    }

    [Fact]
    public void A_scheme_is_found_by_its_id_in_any_case()
    {
        Assert.Equal("brown", ConductorColours.WithId(" IEC-60445 ")?.UsualOf(Conductor.A)?.Word);
        Assert.Null(ConductorColours.WithId("mars"));
        Assert.Null(ConductorColours.WithId(null));
    }

    [Fact]
    public void A_split_service_has_no_third_line() =>
        Assert.Null(ConductorColours.WithId("us-120-240")!.UsualOf(Conductor.C));

    [Fact]
    public void Every_colour_has_a_word_and_a_display_colour()
    {
        foreach (var scheme in ConductorColours.All)
            foreach (var colour in Enum.GetValues<Conductor>().SelectMany(conductor => scheme.Of(conductor)))
            {
                Assert.NotEmpty(colour.Word);
                Assert.Matches(Hex(), colour.CssHex);
                Assert.Equal(colour.Word.Contains('-', StringComparison.Ordinal), colour.StripeCssHex is not null);
            }
    }

    [Fact]
    public void Blue_is_a_line_in_one_country_and_the_neutral_in_another()
    {
        // The trap that the caution is about; both facts from the table.
        Assert.Equal("blue", ConductorColours.WithId("us-120-208")!.UsualOf(Conductor.C)?.Word);
        Assert.Equal("blue", ConductorColours.WithId("iec-60445")!.UsualOf(Conductor.N)?.Word);
        Assert.Contains("never prove a phase", ColourScheme.Caution, StringComparison.Ordinal);
    }

    private static string Words(ColourScheme scheme, Conductor conductor) =>
        string.Join('|', scheme.Of(conductor).Select(colour => colour.Word));

    [GeneratedRegex("^#[0-9a-f]{6}$")]
    private static partial Regex Hex();
}
