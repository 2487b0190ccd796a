using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Settling;
using Leadwright.Reports.Hookups;

namespace Leadwright.Reports.Tests.Hookups;

public class WordingTests
{
    [Fact]
    public void Remedies_name_the_conductor_and_its_colour_where_one_is_known()
    {
        var move = new MoveClamp(Clamp.I2, Conductor.C, Conductor.B, false);

        Assert.Equal("Move clamp I2 to conductor B (black).", RemedyWording.Of(move, ConductorNaming.Iec60445));
        Assert.Equal("Move clamp I2 to conductor B.", RemedyWording.Of(move, ConductorNaming.Letters));
        Assert.Equal(
            "Move clamp I2 to conductor B and turn it round: its arrow must point to the load.",
            RemedyWording.Of(move with { AndTurn = true }, ConductorNaming.Letters));
        Assert.Equal(
            "Turn clamp I1 round: its arrow must point to the load.",
            RemedyWording.Of(new TurnClamp(Clamp.I1, Conductor.A), ConductorNaming.Letters));
    }

    [Fact]
    public void Colours_that_a_region_has_several_of_are_all_named()
    {
        var naming = ConductorNaming.Of(ConductorColours.WithId("europe-older")!);

        Assert.Equal("conductor A (black or brown)", naming.Phrase(Conductor.A));
        Assert.Equal("the neutral (blue)", naming.Phrase(Conductor.N));
    }

    [Fact]
    public void Iec_names_stand_beside_the_letters()
    {
        Assert.Equal("A (L1)", ConductorNaming.FullName(Conductor.A));
        Assert.Equal("N", ConductorNaming.FullName(Conductor.N));
    }

    // Source of the words' boundaries: the project's own scale; below 1 little, to 3 leaning, to 5 clear, above hardly any room.
    [Theory]
    [InlineData(0.99, "says little for or against")]
    [InlineData(-0.99, "says little for or against")]
    [InlineData(1.0, "leans against")]
    [InlineData(2.99, "leans against")]
    [InlineData(3.0, "speaks clearly against")]
    [InlineData(5.0, "speaks clearly against")]
    [InlineData(5.01, "leaves hardly any room for")]
    [InlineData(-1.0, "leans towards")]
    [InlineData(-3.0, "speaks clearly for")]
    [InlineData(-5.01, "by itself leaves room only for")]
    public void Strength_of_evidence_goes_by_log_odds(double logOdds, string words) =>
        Assert.Equal(words, EvidenceWording.Strength(logOdds));

    [Theory]
    [InlineData(1.0, "more than 99.9 %")]
    [InlineData(0.9991, "more than 99.9 %")]
    [InlineData(0.999, "99.9 %")]
    [InlineData(0.994, "99.4 %")]
    [InlineData(0.99, "99 %")]
    [InlineData(0.62, "62 %")]
    [InlineData(0.004, "0.4 %")]
    [InlineData(0.01, "1 %")]
    [InlineData(0.0009, "less than 0.1 %")]
    public void Percent_never_reads_none_or_all(double probability, string words) =>
        Assert.Equal(words, ConfidenceWording.Percent(probability));

    [Fact]
    public void Displacement_evidence_gives_the_lag_on_the_conductor_that_each_clamp_is_on()
    {
        // By hand: I1 turned stands at 161 − 180 = −19 against A at 0; I2 at 95 against C at 119.8; I3 at −146.1 against B at −120.3.
        var says = CheckDocument.Of("x", SampleVerdicts.Exchanged()).Evidence[0].Says;

        Assert.Contains("I1 lags by 19°, I2 lags by 25° and I3 lags by 26°", says, StringComparison.Ordinal);
        Assert.Contains("I1 leads by 161°, I2 lags by 145° and I3 leads by 94°", says, StringComparison.Ordinal);
    }

    [Fact]
    public void Displacement_of_a_three_wire_service_is_against_the_star_point()
    {
        // Line-to-line voltages of an A-B-C supply with A to star at 0 degrees: V1 on B is at −120 and V2 on A at 0, so
        // V12 = B − A at −150. Currents at −30, −150, 90 each lag their own conductor by 30 degrees.
        var says = CheckDocument.Of("x", SampleVerdicts.ThreeWire()).Evidence[0].Says;

        Assert.StartsWith("Against the voltage of its own conductor I1 lags by 30°, I2 lags by 30° and I3 lags by 30°", says, StringComparison.Ordinal);
    }

    [Fact]
    public void Kirchhoff_evidence_gives_the_sum_as_a_share_of_the_largest_current()
    {
        // 60, 61 and 59 A at 120 degrees apart add up to √3 A (an unbalance of +1 and −1): 2.8 % of 61 A.
        var says = CheckDocument.Of("x", SampleVerdicts.ThreeWire()).Evidence[1].Says;

        Assert.StartsWith("The line currents add up to 1.73 A, 3 % of the largest", says, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("rotation", "abc", "acb", "Look at a rotation indicator on conductors A, B and C: A-B-C as reported, A-C-B in the other case.")]
    [InlineData("arrow:I1", "source", "load", "Look at the arrow of clamp I1: to the source as reported, to the load in the other case.")]
    [InlineData("clamp:I3", "C", "none",
        "Follow the conductor in the jaws of clamp I3 to its label: C as reported, nothing, or not closed in the other case.")]
    [InlineData("meter:VN-A", "0", "231",
        "Measure between lead VN and conductor A with a hand meter of low input resistance: about 0 V as reported, about 231 V in the other case.")]
    [InlineData("hand-clamp:A", "41.2", "412", "Read conductor A with a hand clamp: about 41.2 A as reported, about 412 A in the other case.")]
    [InlineData("switched:C", "I2,up", "I3,down",
        "Switch on a known load, such as a heater, on conductor C alone and watch the power of each clamp's phase: I2 rises as reported, I3 falls in the other case.")]
    [InlineData("switched:A-B", "I1,I2", "none",
        "Switch on a known load, such as a heater, between conductor A and conductor B and watch the clamps: I1 moves and I2 moves as reported, none moves in the other case.")]
    [InlineData("motor", "up", "mixed",
        "Start a three-phase motor and watch the power of each phase: all rise as reported, some rise, some fall in the other case.")]
    [InlineData("export", "no", "yes", "Ask whether generation runs and the site sends power back now: no as reported, yes in the other case.")]
    [InlineData("watts", "load-positive", "load-negative",
        "Look up how the instrument shows power that flows to the load: positive as reported, negative in the other case.")]
    public void A_rival_is_settled_by_an_action_and_what_is_found_in_either_case(string action, string reported, string rival, string says)
    {
        var settlement = SampleVerdicts.Settling(action, 0.8, (reported, 0.5, 0.98, 0.01), (rival, 0.5, 0.01, 0.98));
        Assert.Equal(says, SettleWording.Against(settlement, SampleVerdicts.Exchanged(), ConductorNaming.Letters));
    }

    [Fact]
    public void Every_action_has_a_question_that_ends_as_one_and_answers_of_their_own()
    {
        string[] all =
        [
            "rotation=abc", "arrow:I1=load", "clamp:I1=A", "lead:V1=A", "contact:VN=yes", "meter:V2-B=0", "meter:V1-V2=400", "hand-clamp:B=3",
            "switched:A=none", "motor=up", "export=no", "watts=load-positive", "angles=lead-positive",
        ];
        var told = all.Select(SampleVerdicts.Told).ToArray();
        Assert.Equal(Enum.GetValues<SettlingKind>().Length - 1, told.Select(answer => answer.Action.Kind).Distinct().Count());
        foreach (var answer in told)
        {
            var settlement = new Settlement(answer.Action, [new SettlingOutcome(answer.Answer, 1, 1, 1)], 0);
            Assert.EndsWith("?", SettleWording.Question(settlement, SampleVerdicts.Exchanged(), ConductorNaming.Iec60445), StringComparison.Ordinal);
            Assert.NotEmpty(SettleWording.Told(answer));
            Assert.Equal($"--told {answer}", SettleWording.Example(settlement));
        }

        Assert.Equal(told.Length, told.Select(SettleWording.Told).Distinct().Count());
    }

    [Theory]
    [InlineData(7.003, "1,100 to 1 for the report")]
    [InlineData(-3.0, "20 to 1 against the report")]
    [InlineData(0.6, "1.8 to 1 for the report")]
    [InlineData(0.0, "even odds")]
    [InlineData(99, "more than a million to 1 for the report")]
    public void Odds_are_said_to_two_digits(double logOdds, string words) => Assert.Equal(words, EvidenceWording.Odds(logOdds));

    [Fact]
    public void Every_kind_of_evidence_has_a_title_and_words()
    {
        var verdict = SampleVerdicts.Exchanged();
        var kinds = Enum.GetValues<EvidenceKind>();
        Assert.Equal(kinds.Length, kinds.Select(EvidenceWording.Title).Distinct().Count());
        Assert.All(kinds, kind => Assert.EndsWith(".", EvidenceWording.Of(new Evidence(kind, 2, SampleVerdicts.Wye()), verdict), StringComparison.Ordinal));
    }

    [Fact]
    public void A_fault_that_is_less_likely_than_not_sends_nobody_to_move_anything()
    {
        var sure = SampleVerdicts.Exchanged();
        var document = CheckDocument.Of("x", sure with { Best = sure.Best with { Probability = 0.49 } });
        Assert.Empty(document.Steps);
        Assert.StartsWith("Something is wrong, and it is open what: settle that first. Likeliest: ", document.Headline, StringComparison.Ordinal);
        Assert.DoesNotContain("WHAT TO DO", CheckText.Write(document), StringComparison.Ordinal);
        Assert.NotEmpty(CheckDocument.Of("x", sure).Steps);
    }

    [Fact]
    public void All_evidence_together_is_the_sum_of_its_parts() =>
        Assert.Equal(
            "Together this leaves hardly any room for a hook-up with nothing wrong (540 to 1 for the report).",
            EvidenceWording.Together(SampleVerdicts.Exchanged()));

    [Fact]
    public void Moving_round_together_and_exchanging_two_lines_are_named_as_reading_the_same()
    {
        Assert.Equal(
            "All leads and clamps moved round together by one phase would read the same: go by the conductor colours and labels.",
            Assert.Single(CheckDocument.Of("x", SampleVerdicts.Correct()).SameReading));
        Assert.Equal(
            "The leads and clamps of A and B exchanged together, on a supply that turns A-C-B, would read the same: a rotation indicator tells.",
            Assert.Single(CheckDocument.Of("x", SampleVerdicts.ThreeWire()).SameReading));
    }

    [Fact]
    public void Clamp_that_is_elsewhere_and_turned_is_said_to_be_both_in_the_headline()
    {
        var headline = VerdictWording.Headline(SampleVerdicts.ManyFaults(), ConductorNaming.Letters);

        Assert.Contains("clamp I2 is on conductor C together with I3, and I2 faces the source", headline, StringComparison.Ordinal);
    }

    [Fact]
    public void Turned_clamp_is_not_said_twice_when_a_fault_of_its_own_says_it()
    {
        var rival = CheckDocument.Of("x", SampleVerdicts.Exchanged()).Rivals[0];

        Assert.Equal("Clamps I2 and I3 face the source; clamps I2 and I3 are exchanged.", rival.Says);
    }

    [Theory]
    [InlineData(FaultKind.ClampReversed)]
    [InlineData(FaultKind.ClampsExchanged)]
    [InlineData(FaultKind.ClampsRotated)]
    [InlineData(FaultKind.ClampOpen)]
    [InlineData(FaultKind.LeadsExchanged)]
    [InlineData(FaultKind.LeadOpen)]
    [InlineData(FaultKind.LeadOnNeutral)]
    [InlineData(FaultKind.LeadsOnSameConductor)]
    [InlineData(FaultKind.ClampsOnSameConductor)]
    [InlineData(FaultKind.ClampOnNeutral)]
    [InlineData(FaultKind.NeutralOpen)]
    [InlineData(FaultKind.NeutralExchanged)]
    [InlineData(FaultKind.RotationReversed)]
    [InlineData(FaultKind.RatioWrong)]
    [InlineData(FaultKind.ServiceMismatch)]
    public void Every_fault_kind_has_a_sentence_and_a_remedy(FaultKind kind)
    {
        var verdict = SampleVerdicts.ManyFaults();
        var fault = new Fault(kind, [Lead.V1, Lead.VN], [Clamp.I1, Clamp.I2], []);

        var clause = FaultWording.Clause(fault, verdict.Best, verdict.Service, ConductorNaming.Letters);
        Assert.False(string.IsNullOrWhiteSpace(clause));
        Assert.False(clause.EndsWith('.'));
        Assert.EndsWith(".", RemedyWording.Of(fault, ConductorNaming.Letters), StringComparison.Ordinal);
    }

    [Fact]
    public void Every_note_kind_has_its_own_sentence()
    {
        var sentences = Enum.GetValues<NoteKind>().Select(kind => NoteWording.Of(new Note(kind, [Channel.V1], double.NaN))).ToArray();

        Assert.Equal(sentences.Length, sentences.Distinct().Count());
        Assert.All(sentences, sentence => Assert.DoesNotContain("NaN", sentence, StringComparison.Ordinal));
    }
}
