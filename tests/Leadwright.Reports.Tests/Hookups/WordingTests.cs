using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
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

    [Fact]
    public void Rival_with_all_clamps_turned_is_settled_by_a_known_load() =>
        Assert.StartsWith("Switch on a known load and watch the power", Settle(SampleVerdicts.Exchanged(), 0), StringComparison.Ordinal);

    [Fact]
    public void Rival_with_clamps_elsewhere_is_settled_by_a_load_on_one_conductor() =>
        Assert.Equal(
            "Switch a single-phase load on conductor C alone and see which clamp moves: I2 as reported, I3 in the other case.",
            Settle(SampleVerdicts.Exchanged(), 1));

    [Fact]
    public void Rival_with_a_lead_elsewhere_is_settled_by_a_hand_meter() =>
        Assert.StartsWith("Measure between lead V1 and conductor B with a hand meter", Settle(SampleVerdicts.ThreeWire(), 0), StringComparison.Ordinal);

    [Fact]
    public void Rival_with_an_open_neutral_is_settled_between_lead_and_neutral() =>
        Assert.StartsWith("Measure between lead VN and the neutral", Settle(SampleVerdicts.ManyFaults(), 0), StringComparison.Ordinal);

    [Fact]
    public void Rival_with_another_ratio_is_settled_by_a_hand_clamp_and_the_two_figures()
    {
        var verdict = SampleVerdicts.ManyFaults();
        var rival = verdict.Best with
        {
            Hookup = verdict.Best.Hookup with { Clamps = verdict.Best.Hookup.Clamps.SetItem(Clamp.I1, ClampPlace.Right(Conductor.A)) },
        };

        Assert.Equal(
            "Read conductor A with a hand clamp: about 41.2 A as reported, about 412 A in the other case.",
            SettleWording.Of(verdict, rival, ConductorNaming.Letters));
    }

    [Fact]
    public void Rival_that_differs_in_rotation_alone_is_settled_by_a_rotation_indicator()
    {
        var verdict = SampleVerdicts.Correct();

        Assert.Equal(
            "Look at a rotation indicator on conductors A, B and C: A-B-C as reported, A-C-B in the other case.",
            SettleWording.Of(verdict, verdict.Best with { Rotation = Rotation.Acb }, ConductorNaming.Letters));
    }

    [Fact]
    public void Rival_with_a_lone_reversed_clamp_is_settled_on_its_own_phase()
    {
        var verdict = SampleVerdicts.Split();

        Assert.Equal(
            "Switch on a known load on conductor B alone and watch the power of phase 2: it rises if clamp I2 faces the load, "
            + "and falls if it faces the source.",
            SettleWording.Of(verdict, verdict.Alternatives[0], ConductorNaming.Letters));
    }

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

    private static string Settle(HookupVerdict verdict, int rival) =>
        SettleWording.Of(verdict, verdict.Alternatives[rival], ConductorNaming.Letters);
}
