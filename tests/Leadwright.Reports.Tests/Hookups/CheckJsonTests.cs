using System.Text.Json;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Reports.Hookups;

namespace Leadwright.Reports.Tests.Hookups;

public class CheckJsonTests
{
    private static readonly string[] s_kinds =
    [
        "clamp-reversed", "clamps-exchanged", "clamps-rotated", "clamp-open", "leads-exchanged", "lead-open", "lead-on-neutral",
        "leads-on-same-conductor", "clamps-on-same-conductor", "clamp-on-neutral", "neutral-open", "neutral-exchanged",
        "rotation-reversed", "ratio-wrong", "service-mismatch",
    ];

    [Fact]
    public void Answer_has_the_fields_of_the_schema_in_order_on_one_line()
    {
        var line = CheckJson.Line(CheckDocument.Of("panel7.cfg", SampleVerdicts.Exchanged()));

        Assert.DoesNotContain('\n', line);
        Assert.Equal(
            ["schema", "file", "service", "verdict", "confidence", "rotation", "hookup", "faults", "alternatives", "settle", "evidence",
                "indistinguishable", "reads_alike", "notes"],
            Names(JsonDocument.Parse(line).RootElement));
    }

    [Fact]
    public void Settle_holds_action_question_answers_and_gain_and_told_what_came_of_it()
    {
        var root = Parsed(SampleVerdicts.Undecided());
        var settle = root.GetProperty("settle");
        Assert.Equal(["action", "question", "answers", "expected_gain_bits"], Names(settle));
        Assert.Equal("switched:A", settle.GetProperty("action").GetString());
        Assert.Equal(["I1,up", "I1,down", "none"], settle.GetProperty("answers").EnumerateArray().Select(answer => answer.GetString()));
        Assert.Equal(0.71, settle.GetProperty("expected_gain_bits").GetDouble());
        Assert.Equal(
            ["arrow:I2=load agrees", "motor=down contradicts", "arrow:IN=load not-used"],
            root.GetProperty("told").EnumerateArray().Select(told => $"{told.GetProperty("told").GetString()} {told.GetProperty("standing").GetString()}"));
        Assert.Equal(JsonValueKind.Null, Parsed(SampleVerdicts.Correct()).GetProperty("settle").ValueKind);
    }

    [Fact]
    public void Answer_holds_the_values_of_the_verdict()
    {
        var root = Parsed(SampleVerdicts.Exchanged());

        Assert.Equal("leadwright.check/1", root.GetProperty("schema").GetString());
        Assert.Equal("panel7.cfg", root.GetProperty("file").GetString());
        Assert.Equal("wye", root.GetProperty("service").GetString());
        Assert.Equal("faulty", root.GetProperty("verdict").GetString());
        Assert.Equal(0.9941, root.GetProperty("confidence").GetDouble());
        Assert.Equal("abc", root.GetProperty("rotation").GetString());
    }

    [Fact]
    public void Hookup_has_an_entry_for_each_lead_and_clamp()
    {
        var hookup = Parsed(SampleVerdicts.Exchanged()).GetProperty("hookup");

        Assert.Equal(["V1", "V2", "V3", "VN", "I1", "I2", "I3"], Names(hookup));
        Assert.Equal(["on"], Names(hookup.GetProperty("V1")));
        Assert.Equal("A", hookup.GetProperty("V1").GetProperty("on").GetString());
        Assert.Equal(["on", "reversed", "scale"], Names(hookup.GetProperty("I1")));
        Assert.True(hookup.GetProperty("I1").GetProperty("reversed").GetBoolean());
        Assert.Equal("C", hookup.GetProperty("I2").GetProperty("on").GetString());
    }

    [Fact]
    public void Open_lead_and_open_clamp_are_on_null_and_a_wrong_ratio_is_a_number()
    {
        var hookup = Parsed(SampleVerdicts.ManyFaults()).GetProperty("hookup");

        Assert.Equal(JsonValueKind.Null, hookup.GetProperty("VN").GetProperty("on").ValueKind);
        Assert.Equal(JsonValueKind.Null, hookup.GetProperty("IN").GetProperty("on").ValueKind);
        Assert.Equal(10, hookup.GetProperty("I1").GetProperty("scale").GetDouble());
    }

    [Fact]
    public void Faults_have_kind_channels_and_remedy()
    {
        var faults = Parsed(SampleVerdicts.Exchanged()).GetProperty("faults");

        Assert.Equal(2, faults.GetArrayLength());
        Assert.Equal(["kind", "channels", "remedy"], Names(faults[0]));
        Assert.Equal("clamp-reversed", faults[0].GetProperty("kind").GetString());
        Assert.Equal("I1", Assert.Single(faults[0].GetProperty("channels").EnumerateArray().ToArray()).GetString());
        Assert.Equal("Turn clamp I1 round: its arrow must point to the load.", faults[0].GetProperty("remedy").GetString());
        Assert.Equal("Move clamp I2 to conductor B. Move clamp I3 to conductor C.", faults[1].GetProperty("remedy").GetString());
    }

    [Fact]
    public void Alternatives_have_confidence_hookup_and_what_settles_it()
    {
        var alternative = Parsed(SampleVerdicts.Exchanged()).GetProperty("alternatives")[0];

        Assert.Equal(["confidence", "hookup", "reads_alike", "settle"], Names(alternative));
        Assert.Equal(0.004, alternative.GetProperty("confidence").GetDouble());
        Assert.EndsWith("A qualified person does this, under the site's rules.", alternative.GetProperty("settle").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public void What_reads_alike_has_its_hookup_in_the_form_of_the_main_one_with_rotation_high_leg_and_share()
    {
        var verdict = SampleVerdicts.Correct();
        var other = verdict.Best.Hookup with { Leads = verdict.Best.Hookup.Leads.SetItem(Lead.V1, null) };
        var root = Parsed(verdict with
        {
            Best = verdict.Best with
            {
                Alike = [new SameReading(other, Rotation.Acb, 0.0123456), new SameReading(other, Rotation.Abc, 0) { HighLeg = Conductor.C }],
            },
            Alternatives = [verdict.Best with { SameReading = [new SameReading(other, Rotation.Acb, 0.3)] }],
        });

        var alike = root.GetProperty("reads_alike");
        Assert.Equal(2, alike.GetArrayLength());
        Assert.Equal(["hookup", "rotation", "share"], Names(alike[0]));
        Assert.Equal(Names(root.GetProperty("hookup")), Names(alike[0].GetProperty("hookup")));
        Assert.Equal(JsonValueKind.Null, alike[0].GetProperty("hookup").GetProperty("V1").GetProperty("on").ValueKind);
        Assert.Equal(("acb", 0.01235), (alike[0].GetProperty("rotation").GetString(), alike[0].GetProperty("share").GetDouble()));
        Assert.Equal(["hookup", "rotation", "high_leg", "share"], Names(alike[1]));
        Assert.Equal(("C", 0.0), (alike[1].GetProperty("high_leg").GetString(), alike[1].GetProperty("share").GetDouble()));
        var rival = Assert.Single(root.GetProperty("alternatives").EnumerateArray().ToArray());
        Assert.Equal(0.3, Assert.Single(rival.GetProperty("reads_alike").EnumerateArray().ToArray()).GetProperty("share").GetDouble());
    }

    [Fact]
    public void Evidence_has_kind_words_and_log_odds()
    {
        var evidence = Parsed(SampleVerdicts.Exchanged()).GetProperty("evidence");

        Assert.Equal(["kind", "says", "log_odds"], Names(evidence[0]));
        Assert.Equal("displacement", evidence[0].GetProperty("kind").GetString());
        Assert.Equal("voltage-geometry", evidence[1].GetProperty("kind").GetString());
        Assert.Equal(7.1, evidence[0].GetProperty("log_odds").GetDouble());
    }

    [Theory]
    [InlineData(double.PositiveInfinity, 1000)]
    [InlineData(double.NegativeInfinity, -1000)]
    [InlineData(double.NaN, 0)]
    public void Log_odds_that_are_no_json_number_are_bounded(double logOdds, double written)
    {
        var verdict = SampleVerdicts.Correct() with { Evidence = [new Evidence(EvidenceKind.Prior, logOdds, SampleVerdicts.Wye())] };

        Assert.Equal(written, Parsed(verdict).GetProperty("evidence")[0].GetProperty("log_odds").GetDouble());
    }

    [Theory]
    [InlineData(1.0, 0.9999)]
    [InlineData(0.99996, 0.9999)]
    [InlineData(0.99994, 0.9999)]
    [InlineData(0.99412, 0.9941)]
    [InlineData(0.00012345, 0.0001234)]
    [InlineData(0.0, 0.0)]
    [InlineData(double.NaN, 0.0)]
    public void Confidence_never_reads_one(double probability, double written) =>
        Assert.Equal(written, ConfidenceWording.Rounded(probability), 7);

    [Fact]
    public void Every_fault_kind_has_the_name_that_the_contract_fixes() =>
        Assert.Equal(s_kinds, Enum.GetValues<FaultKind>().Select(CheckWords.Of));

    [Fact]
    public void Matched_channels_and_notes_about_the_file_are_added_at_the_end()
    {
        var document = CheckDocument.Of("a.cfg", SampleVerdicts.Correct(), channels: [new("V1", "UL1-N")], extraNotes: ["Read in primary values."]);
        var root = JsonDocument.Parse(CheckJson.Line(document)).RootElement;

        Assert.Equal(["reads_alike", "channels", "notes"], Names(root)[^3..]);
        Assert.Equal("UL1-N", root.GetProperty("channels").GetProperty("V1").GetString());
        Assert.Equal("Read in primary values.", root.GetProperty("notes")[0].GetString());
    }

    [Fact]
    public void Undecided_answer_has_no_faults_though_its_likeliest_hookup_would()
    {
        var verdict = SampleVerdicts.Exchanged() with { Verdict = Verdict.Undecided };

        Assert.Equal(0, Parsed(verdict).GetProperty("faults").GetArrayLength());
    }

    [Fact]
    public void File_name_with_quotes_and_line_breaks_stays_one_line_of_json()
    {
        var line = CheckJson.Line(CheckDocument.Of("a \"b\"\n.cfg", SampleVerdicts.Correct()));

        Assert.DoesNotContain('\n', line);
        Assert.Equal("a \"b\"\n.cfg", JsonDocument.Parse(line).RootElement.GetProperty("file").GetString());
    }

    private static JsonElement Parsed(HookupVerdict verdict) =>
        JsonDocument.Parse(CheckJson.Line(CheckDocument.Of("panel7.cfg", verdict))).RootElement;

    private static string[] Names(JsonElement element) => [.. element.EnumerateObject().Select(property => property.Name)];
}
