using System.Text.RegularExpressions;
using Leadwright.Core.Hookups;
using Leadwright.Reports.Hookups;

namespace Leadwright.Reports.Tests.Hookups;

public partial class CheckTextTests
{
    public static TheoryData<string> Names => new(SampleVerdicts.All.Keys);

    [Theory]
    [MemberData(nameof(Names))]
    public void Text_is_as_approved(string name)
    {
        var naming = name == "exchanged" ? ConductorNaming.Iec60445 : null;
        Approved.Matches($"check-{name}.txt", CheckText.Write(CheckDocument.Of("panel7.cfg", SampleVerdicts.All[name](), naming)));
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Text_keeps_to_80_columns_and_begins_with_the_verdict(string name)
    {
        var verdict = SampleVerdicts.All[name]();
        var text = CheckText.Write(CheckDocument.Of("panel7.cfg", verdict));

        Assert.All(text.Split('\n'), line => Assert.InRange(line.Length, 0, 80));
        Assert.StartsWith(verdict.Verdict.ToString().ToUpperInvariant(), text, StringComparison.Ordinal);
        Assert.DoesNotContain('\u001b', text);
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Text_in_bold_says_the_same_words(string name)
    {
        var document = CheckDocument.Of("panel7.cfg", SampleVerdicts.All[name]());

        Assert.Equal(CheckText.Write(document), AnsiSequence().Replace(CheckText.Write(document, isStyled: true), ""));
        Assert.Contains("\u001b[1m", CheckText.Write(document, isStyled: true), StringComparison.Ordinal);
    }

    [Fact]
    public void Text_of_an_undecided_answer_asks_nobody_to_move_anything()
    {
        var verdict = SampleVerdicts.ManyFaults() with { Verdict = Verdict.Undecided };
        var text = CheckText.Write(CheckDocument.Of("panel7.cfg", verdict));

        Assert.DoesNotContain("WHAT TO DO", text, StringComparison.Ordinal);
        Assert.DoesNotContain("Move clamp", text, StringComparison.Ordinal);
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Text_always_ends_with_the_cautions(string name)
    {
        var text = CheckText.Write(CheckDocument.Of("panel7.cfg", SampleVerdicts.All[name]()));

        Assert.EndsWith("Nothing here overrides local codes or a licensed person's judgement.\n", text, StringComparison.Ordinal);
    }

    [GeneratedRegex("\u001b\\[[0-9;]*m")]
    private static partial Regex AnsiSequence();
}
