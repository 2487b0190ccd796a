using System.Collections.Immutable;
using System.Text.Json;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Reports.Guarding;

namespace Leadwright.Reports.Tests.Guarding;

public sealed class GuardJsonTests
{
    private static readonly DateTime s_from = new(2026, 3, 2);

    [Fact]
    public void One_line_holds_spans_usable_shares_and_hook_ups_as_the_schema_has_them()
    {
        var right = Hookup.Expected([Lead.V1, Lead.VN], [Clamp.I1]);
        var report = new GuardReport(
            s_from, s_from.AddDays(7), [Span(SpanKind.LeadOpen, SpanRelation.VoltageWentCurrentStayed, 0.99)],
            new HookupTimeline([new HookupPiece(s_from, s_from.AddDays(7), right, Rotation.Abc, 0.97)]),
            ImmutableSortedDictionary<Channel, double>.Empty.Add(Channel.V2, 0.83), [GuardNoteKind.NoVars]);
        var line = GuardJson.Line("week.csv", report);
        Assert.DoesNotContain('\n', line);
        using var json = JsonDocument.Parse(line);
        var root = json.RootElement;
        Assert.Equal("leadwright.guard/1", root.GetProperty("schema").GetString());
        Assert.Equal("2026-03-02T00:00:00", root.GetProperty("from").GetString());
        var span = root.GetProperty("spans")[0];
        Assert.Equal("lead-open", span.GetProperty("kind").GetString());
        Assert.Equal("V2", span.GetProperty("channels")[0].GetString());
        Assert.Equal(0.99, span.GetProperty("confidence").GetDouble());
        Assert.Equal(0.83, root.GetProperty("usable").GetProperty("V2").GetDouble());
        Assert.Equal("A", root.GetProperty("hookups")[0].GetProperty("hookup").GetProperty("V1").GetProperty("on").GetString());
        Assert.Single(root.GetProperty("notes").EnumerateArray());
    }

    [Fact]
    public void A_lead_that_let_go_is_said_with_its_voltage_and_the_current_that_went_on()
    {
        Assert.Equal(
            "Lead V2 was off. 230 V became 6.4 V, while the current of that phase went on at 98 % of what it was.",
            SpanWording.Of(Span(SpanKind.LeadOpen, SpanRelation.VoltageWentCurrentStayed, 0.99)));
        Assert.StartsWith("Doubtful: ", SpanWording.Of(Span(SpanKind.LeadOpen, SpanRelation.VoltageWentCurrentStayed, 0.6)), StringComparison.Ordinal);
    }

    [Fact]
    public void A_recorder_that_stood_still_is_said_of_its_lead_and_its_clamp() => Assert.Equal(
        "The recorder stood still: V1 and I1 each repeated one value. 144 intervals read the same in all of them.",
        SpanWording.Of(Span(SpanKind.Stuck, SpanRelation.ValueRepeated, 0.97) with { Leads = [Lead.V1], Clamps = [Clamp.I1] }));

    [Fact]
    public void Every_kind_with_every_relation_is_said_in_whole_sentences()
    {
        foreach (var kind in Enum.GetValues<SpanKind>())
        {
            foreach (var relation in Enum.GetValues<SpanRelation>())
            {
                var says = SpanWording.Of(Span(kind, relation, 0.9));
                Assert.True(char.IsUpper(says[0]) && says.EndsWith('.') && !says.Contains("NaN", StringComparison.Ordinal), says);
            }
        }
    }

    [Fact]
    public void Text_for_people_names_times_kinds_and_shares()
    {
        var report = new GuardReport(
            s_from, s_from.AddDays(7), [Span(SpanKind.LeadOpen, SpanRelation.VoltageWentCurrentStayed, 0.99)], HookupTimeline.Empty,
            ImmutableSortedDictionary<Channel, double>.Empty.Add(Channel.V2, 0.83), []);
        var text = GuardText.Of("week.csv", report);
        Assert.Contains("2026-03-03 00:00:00 to 2026-03-04 00:00:00  lead-open", text, StringComparison.Ordinal);
        Assert.Contains("V2 83.0 %", text, StringComparison.Ordinal);
        Assert.Contains("Nothing wrong", GuardText.Of("week.csv", report with { Spans = [] }), StringComparison.Ordinal);
    }

    private static GuardSpan Span(SpanKind kind, SpanRelation relation, double confidence) => new(
        kind, [Lead.V2], [], s_from.AddDays(1), s_from.AddDays(2), confidence,
        new SpanFinding(relation, 5) { Before = 230.2, Within = 6.4, CurrentRatio = 0.98, Intervals = 144 });
}
