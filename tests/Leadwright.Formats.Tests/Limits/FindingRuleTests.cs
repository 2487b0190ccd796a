using System.Text;
using Leadwright.Formats.Limits;

namespace Leadwright.Formats.Tests.Limits;

public sealed class FindingRuleTests
{
    [Fact]
    public void Shipped_rules_read_and_each_has_its_source_and_its_own_name()
    {
        var rules = FindingRuleReader.ReadShipped();
        Assert.NotEmpty(rules);
        Assert.Equal(rules.Length, rules.Select(rule => rule.Id).Distinct().Count());
        Assert.All(rules, rule =>
        {
            Assert.NotEmpty(rule.Source);
            Assert.Contains("{value}", rule.Says, StringComparison.Ordinal);
        });
    }

    [Theory]
    [InlineData("""{"schema":"leadwright.findings/1","rules":[{"id":"a","metric":"b","says":"c","consequence":0,"above":1}]}""", "$.rules[0].consequence")]
    [InlineData("""{"schema":"leadwright.findings/1","rules":[{"id":"a","metric":"b","says":"c","consequence":1}]}""", "$.rules[0]")]
    [InlineData("""{"schema":"leadwright.findings/1","rules":[{"id":"a","metric":"b","says":"c","consequence":1,"over":1}]}""", "$.rules[0].over")]
    public void Rules_that_can_not_be_used_are_refused_with_their_place(string json, string field) =>
        Assert.Equal(field, Assert.Throws<FormatReadException>(() => FindingRuleReader.Read(new InputFile("own.json", Encoding.UTF8.GetBytes(json)))).Field);
}
