using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Answers;
using Leadwright.Core.Hookups.Hypotheses;
using Leadwright.Core.Hookups.Likelihoods;
using Leadwright.Core.Hookups.Settling;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Hookups;

/// <summary>What the check asks for, and what an answer does to the verdict.</summary>
public class SettlingTests
{
    [Theory]
    [InlineData("rotation=ABC", "rotation=abc")]
    [InlineData("meter:v2-b=0", "meter:V2-B=0")]
    [InlineData("meter:V2-V1=400.5 V", "meter:V1-V2=400.5")]
    [InlineData("switched:A=I2,up", "switched:A=I2,up")]
    [InlineData("switched:C-A=I3,down,I1,up", "switched:A-C=I1,up,I3,down")]
    [InlineData("switched:A=I1+I2", "switched:A=I1,I2")]
    [InlineData("switched:B=none", "switched:B=none")]
    [InlineData("arrow:I1=source", "arrow:I1=source")]
    [InlineData("clamp:I3=c", "clamp:I3=C")]
    [InlineData("lead:VN=none", "lead:VN=none")]
    [InlineData("contact:VN=No", "contact:VN=no")]
    [InlineData("hand-clamp:B=41.3", "hand-clamp:B=41.3")]
    [InlineData("hand-clamp:N=other", "hand-clamp:N=other")]
    [InlineData("motor=mixed", "motor=mixed")]
    [InlineData("watts=load-negative", "watts=load-negative")]
    public void An_answer_is_read_in_any_case_and_written_in_one_form(string text, string form)
    {
        Assert.True(ToldAnswer.TryParse(text, out var told, out var problem), problem);
        Assert.Equal(form, told!.ToString());
        Assert.True(ToldAnswer.TryParse(form, out var again, out _));
        Assert.Equal(told, again);
    }

    [Theory]
    [InlineData("rotation", "'rotation' is not ACTION=ANSWER, such as switched:A=I2,up.")]
    [InlineData("colour=red", "there is no action 'colour'.")]
    [InlineData("arrow=source", "'arrow' does not say where. Write it as in arrow:I1=source.")]
    [InlineData("arrow:V1=source", "'arrow:V1' does not say where.")]
    [InlineData("meter:V2=0", "'meter:V2' does not say where. Write it as in meter:V2-B=0.")]
    [InlineData("switched:N=I1,up", "'switched:N' does not say where.")]
    [InlineData("rotation=left", "'left' is no answer to rotation. Write abc or acb.")]
    [InlineData("hand-clamp:B=-3", "'-3' is no answer to hand-clamp:B. Write amperes, such as 41.3, or other.")]
    [InlineData("switched:A=up", "'up' is no answer to switched:A.")]
    [InlineData("read-again=yes", "read-again is answered by a new reading: check that.")]
    [InlineData("", "'' is not ACTION=ANSWER")]
    public void What_is_no_answer_is_refused_with_what_to_write(string text, string problem)
    {
        Assert.False(ToldAnswer.TryParse(text, out var told, out var said));
        Assert.Null(told);
        Assert.StartsWith(problem, said, StringComparison.Ordinal);
    }

    [Fact]
    public void The_page_states_error_answers_and_price_of_every_action()
    {
        var rows = File.ReadAllLines(RepositoryFile.Path("../docs/methods/settling.md")).Where(line => line.StartsWith("| `", StringComparison.Ordinal))
            .Select(line => line.Trim('|').Split('|').Select(cell => cell.Trim()).ToArray()).ToList();
        Assert.Equal(Enum.GetValues<SettlingKind>().Length, rows.Count);
        foreach (var row in rows.Where(row => row[3].Length > 0))
        {
            var word = row[0].Split('`')[1].Split(':')[0];
            var kind = Enum.GetValues<SettlingKind>().Single(kind => string.Equals(kind.ToString(), word.Replace("-", "", StringComparison.Ordinal), StringComparison.OrdinalIgnoreCase));
            Assert.Equal(
                string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{kind} {SettlingRates.ErrorOf(kind):0.00} {SettlingRates.AnswersOf(kind)} {SettlingRates.CostOf(kind):0.00}"),
                $"{kind} {row[3]} {row[4]} {row[5]}");
        }
    }

    /// <summary>A question with two answers, asked of a person who errs in one case of 1/e, is a binary symmetric channel: about two
    /// equally likely rivals it tells 1 − H(e) bits (C. E. Shannon, Bell Syst. Tech. J. 27 (1948) 379, section 15).</summary>
    [Fact]
    public void The_gain_of_a_question_with_two_answers_is_the_capacity_of_a_binary_symmetric_channel()
    {
        var situations = new[] { SituationOf(false), SituationOf(true) };
        var action = new SettlingAction(SettlingKind.Arrow) { AtClamp = Clamp.I1 };
        var best = new SettlingSearch(situations, [action], showsPower: true).Best([0.5, 0.5], [0, 1], [true, false])!;
        var error = SettlingRates.ErrorOf(SettlingKind.Arrow);
        var entropy = -(error * Math.Log2(error)) - ((1 - error) * Math.Log2(1 - error));
        Assert.Equal(1 - entropy, best.ExpectedGainBits, 1e-12);
        Assert.Equal(1, best.Outcomes.Sum(outcome => outcome.Probability), 1e-12);
    }

    [Fact]
    public void A_question_whose_answer_is_the_same_either_way_is_not_asked()
    {
        var situations = new[] { SituationOf(false), SituationOf(true) };
        var where = new SettlingAction(SettlingKind.Clamp) { AtClamp = Clamp.I1 };
        Assert.Null(new SettlingSearch(situations, [where], showsPower: true).Best([0.5, 0.5], [0, 1], [true, false]));
    }

    [Fact]
    public void An_answer_moves_the_odds_by_as_much_as_the_error_rate_says()
    {
        var panel = Export(11);
        var before = HookupCheck.Judge(panel.Readings, panel.Options);
        var reported = before.Best.Hookup;
        var clamp = reported.Clamps.Keys.First(clamp => reported.Clamps[clamp].On is not null);
        var rival = before.Alternatives.First(other => other.Hookup.Clamps[clamp].Reversed != reported.Clamps[clamp].Reversed);
        var told = new ToldAnswer(new SettlingAction(SettlingKind.Arrow) { AtClamp = clamp }, reported.Clamps[clamp].Reversed ? "source" : "load");
        var after = HookupCheck.Judge(panel.Readings, panel.Options with { Told = [told] });
        var rivalAfter = after.Alternatives.First(other => other.Hookup.Equals(rival.Hookup));
        var factor = after.Best.Probability / rivalAfter.Probability / (before.Best.Probability / rival.Probability);
        Assert.Equal(reported, after.Best.Hookup);

        // One in 33 errs; where all clamps are reversed one in five misreads the arrow again, so the factor may be smaller.
        Assert.InRange(factor, 3.5, (1 - 0.03) / 0.03 * 1.05);
    }

    [Theory]
    [InlineData(ServiceKind.Wye)]
    [InlineData(ServiceKind.Delta)]
    [InlineData(ServiceKind.DeltaTwoClamp)]
    [InlineData(ServiceKind.Split)]
    [InlineData(ServiceKind.Single)]
    public void An_undecided_verdict_asks_and_no_gain_exceeds_what_its_answers_can_carry(ServiceKind service)
    {
        var population = new PanelPopulation { Service = service, Family = LoadFamily.Export, Seed = 3 };
        var asked = 0;
        foreach (var panel in population.Cases(25))
        {
            var verdict = HookupCheck.Judge(panel.Readings, panel.Options);
            if (verdict.Verdict == Verdict.Undecided && !verdict.Notes.Any(note => note.Kind == NoteKind.NothingLive)) Assert.NotNull(verdict.Settle);
            if (verdict.Settle is not { Outcomes.IsEmpty: false } settle) continue;
            asked++;
            Assert.InRange(settle.ExpectedGainBits, 0, Math.Log2(8));
            Assert.All(settle.Outcomes, outcome => Assert.True(ToldAnswer.TryParse($"{settle.Action.Id}={outcome.Answer}", out _, out var problem), problem));
        }

        Assert.True(asked > 3, $"only {asked} questions");
    }

    /// <summary>Three wires read to a common point, with little on them, are hard to tell from four.</summary>
    [Fact]
    public void Where_the_service_is_in_doubt_every_question_can_be_answered_on_each_that_is_likely()
    {
        var population = new PanelPopulation { Service = ServiceKind.Delta, Family = LoadFamily.Light, Seed = 4 };
        var (asked, betweenLines) = (0, 0);
        foreach (var panel in population.Cases(14))
        {
            var readings = panel.Readings with { IsServiceOpen = true, Nominal = null };
            var verdict = HookupCheck.Judge(readings, panel.Options);
            var likely = verdict.Services.Where(share => share.Probability >= 0.05).Select(share => Service.Of(share.Service)).ToList();
            if (likely.Count < 2 || likely.All(service => service.Conductors.Contains(Conductor.N))) continue;
            foreach (var settle in verdict.AlternativeSettles.Concat(verdict.Settle is { } first ? [first] : []))
            {
                asked++;
                if (settle.Action is { Kind: SettlingKind.Switched, ToConductor: not null }) betweenLines++;
                Assert.All(likely, service => Assert.True(CanBeDone(settle.Action, service), $"{settle.Action.Id} on {service.Kind}"));
            }

            if (verdict.Settle is not { Outcomes: [var likeliest, ..] } question) continue;
            var told = new ToldAnswer(question.Action, likeliest.Answer);
            var after = HookupCheck.Judge(readings, panel.Options with { Told = [told] });
            Assert.NotEqual(ToldStanding.NotUsed, Assert.Single(after.Told).Standing);
        }

        Assert.True(asked > 10 && betweenLines > 3, $"{asked} questions, {betweenLines} of a load between two lines");
    }

    private static bool CanBeDone(SettlingAction action, Service service) => action switch
    {
        { Kind: SettlingKind.Switched, ToConductor: null } => service.Conductors.Contains(Conductor.N) && service.Conductors.Contains(action.AtConductor!.Value),
        { Kind: SettlingKind.Motor or SettlingKind.Rotation } => service.IsThreePhase,
        _ => (action.AtConductor is not { } at || service.Conductors.Contains(at)) && (action.ToConductor is not { } to || service.Conductors.Contains(to)),
    };

    [Fact]
    public void Answering_with_the_likeliest_answer_makes_the_answer_surer_on_average()
    {
        // The expected entropy falls: over the answers as likely as they are said to be, the best answer's probability must rise.
        var panel = Export(1);
        var before = HookupCheck.Judge(panel.Readings, panel.Options);
        double expected = 0, all = 0;
        foreach (var outcome in before.Settle!.Outcomes)
        {
            var told = new ToldAnswer(before.Settle.Action, outcome.Answer);
            expected += outcome.Probability * HookupCheck.Judge(panel.Readings, panel.Options with { Told = [told] }).Best.Probability;
            all += outcome.Probability;
        }

        Assert.True(expected / all > before.Best.Probability, $"{before.Best.Probability:0.000} became {expected / all:0.000}");
    }

    [Fact]
    public void An_answer_that_speaks_against_sure_readings_is_said_to_and_does_not_overrule_them()
    {
        var readings = TestReadings(reversed: true);
        Assert.True(ToldAnswer.TryParse("arrow:I1=load", out var wrong, out _));
        var verdict = HookupCheck.Judge(readings, new CheckOptions { Told = [wrong!] });
        Assert.Equal(Verdict.Faulty, verdict.Verdict);
        Assert.True(verdict.Best.Hookup.Clamps[Clamp.I1].Reversed);
        Assert.Equal(ToldStanding.Contradicts, Assert.Single(verdict.Told).Standing);
        Assert.Contains(verdict.Evidence, evidence => evidence.Kind == EvidenceKind.Told && evidence.LogOdds < -3);
    }

    [Fact]
    public void An_answer_about_what_is_not_there_is_not_used()
    {
        var readings = TestReadings(reversed: false);
        Assert.True(ToldAnswer.TryParse("arrow:IN=source", out var told, out _));
        var verdict = HookupCheck.Judge(readings, new CheckOptions { Told = [told!] });
        Assert.Equal(ToldStanding.NotUsed, Assert.Single(verdict.Told).Standing);

        // With an answer at hand the search goes deeper, which finds a few more rivals: no more than that.
        Assert.Equal(HookupCheck.Judge(readings, new CheckOptions()).Best.Probability, verdict.Best.Probability, 1e-3);
    }

    /// <summary>An instrument that shows power to the load as negative, and does not say so, must not get a right panel called
    /// reversed throughout.</summary>
    [Fact]
    public void A_sign_of_power_that_was_not_stated_is_asked_for_before_all_clamps_are_called_reversed()
    {
        var readings = WattsOnly(-1);
        var verdict = HookupCheck.Judge(readings, new CheckOptions());
        Assert.Equal(Verdict.Undecided, verdict.Verdict);
        Assert.Equal("watts", verdict.Settle!.Action.Id);
        Assert.True(ToldAnswer.TryParse("watts=load-negative", out var told, out _));
        Assert.True(HookupCheck.Judge(readings, new CheckOptions { Told = [told!] }).Best.Hookup.IsRight);
        Assert.True(ToldAnswer.TryParse("watts=load-positive", out told, out _));
        Assert.Equal(Verdict.Faulty, HookupCheck.Judge(readings, new CheckOptions { Told = [told!] }).Verdict);
    }

    /// <summary>Volts and amperes alone say nothing of the clamps; what a person found may say it all.</summary>
    [Fact]
    public void Sizes_alone_are_decided_by_looking_and_switching()
    {
        var readings = WattsOnly(1) with { Phases = ImmutableSortedDictionary<int, PhasePower>.Empty };
        Assert.Equal(Verdict.Undecided, HookupCheck.Judge(readings, new CheckOptions()).Verdict);
        string[] found = ["switched:A=I1", "switched:B=I2", "switched:C=I3", "arrow:I1=load", "arrow:I2=load", "arrow:I3=load"];
        var right = HookupCheck.Judge(readings, new CheckOptions { Told = Told(found) });
        Assert.Equal(Verdict.Correct, right.Verdict);
        Assert.DoesNotContain(right.Notes, note => note.Kind == NoteKind.NoCurrentAngles);

        // Where a clamp is, without which way it faces, or the other way about, is half of what an angle says.
        foreach (string[] half in new[] { found[..3], found[3..] })
            Assert.Contains(HookupCheck.Judge(readings, new CheckOptions { Told = Told(half) }).Notes, note => note.Kind == NoteKind.NoCurrentAngles);

        found = ["switched:A=I1", "switched:B=I3", "switched:C=I2", "arrow:I1=source", "arrow:I2=load", "arrow:I3=load"];
        var wrong = HookupCheck.Judge(readings, new CheckOptions { Told = Told(found) });
        Assert.Equal(Verdict.Faulty, wrong.Verdict);
        Assert.Equal(new ClampPlace(Conductor.A, true, 1), wrong.Best.Hookup.Clamps[Clamp.I1]);
        Assert.Equal(Conductor.C, wrong.Best.Hookup.Clamps[Clamp.I2].On);
    }

    [Fact]
    public void A_dead_board_names_no_fault_and_asks_nothing()
    {
        var readings = new PanelReadings
        {
            Service = ServiceKind.Wye,
            Nominal = new NominalVoltage(230, 400),
            Channels = new[] { Channel.V1, Channel.V2, Channel.V3, Channel.I1, Channel.I2, Channel.I3 }
                .ToImmutableSortedDictionary(channel => channel, _ => new ChannelReading(0.1, null)),
        };
        var verdict = HookupCheck.Judge(readings, new CheckOptions());
        Assert.Equal(Verdict.Undecided, verdict.Verdict);
        Assert.Contains(verdict.Notes, note => note.Kind == NoteKind.NothingLive);
        Assert.Empty(verdict.Best.Faults);
        Assert.Empty(verdict.Alternatives);
        Assert.Null(verdict.Settle);
    }

    [Fact]
    public void A_rotation_told_for_an_instrument_that_replays_one_voltage_counts_as_an_indicator()
    {
        var population = new PanelPopulation { Service = ServiceKind.Wye, ReplaysVoltage = true, ReversedRotationShare = 1, Faults = FaultStyle.None };
        var panel = population.Case(0);
        Assert.True(ToldAnswer.TryParse("rotation=acb", out var told, out _));
        var asked = HookupCheck.Judge(panel.Readings, panel.Options with { Told = [told!] });
        var stated = HookupCheck.Judge(panel.Readings, panel.Options with { ToldRotation = Rotation.Acb });
        Assert.Equal(stated.Best.Hookup, asked.Best.Hookup);
    }

    private static ImmutableArray<ToldAnswer> Told(params IEnumerable<string> texts) =>
        [.. texts.Select(text => ToldAnswer.TryParse(text, out var told, out var problem) ? told! : throw new ArgumentException(problem, nameof(texts)))];

    private static PanelCase Export(int index) =>
        new PanelPopulation { Service = ServiceKind.Wye, Family = LoadFamily.Export, Seed = 1 }.Case(index);

    private static PanelReadings TestReadings(bool reversed) => new()
    {
        Service = ServiceKind.Wye,
        Nominal = new NominalVoltage(230, 400),
        AngleSign = AngleSign.LeadPositive,
        CurrentAngleReference = CurrentAngleReference.Common,
        Channels = new[]
        {
            (Channel.V1, 230.0, 0.0), (Channel.V2, 231.0, -120.1), (Channel.V3, 229.5, 119.9),
            (Channel.I1, 40.0, reversed ? 155.0 : -25.0), (Channel.I2, 38.0, -146.0), (Channel.I3, 42.0, 95.0),
        }.ToImmutableSortedDictionary(entry => entry.Item1, entry => new ChannelReading(entry.Item2, entry.Item3)),
    };

    private static PanelReadings WattsOnly(double sign) => new()
    {
        Service = ServiceKind.Wye,
        Nominal = new NominalVoltage(230, 400),
        Channels = new[] { (Channel.V1, 230.0), (Channel.V2, 231.0), (Channel.V3, 229.5), (Channel.I1, 40.0), (Channel.I2, 38.0), (Channel.I3, 42.0) }
            .ToImmutableSortedDictionary(entry => entry.Item1, entry => new ChannelReading(entry.Item2, null)),
        Phases = new[] { (1, 8100.0), (2, 7800.0), (3, 8600.0) }
            .ToImmutableSortedDictionary(entry => entry.Item1, entry => new PhasePower(sign * entry.Item2, sign * 3600, null, null)),
    };

    private static Situation SituationOf(bool reversed)
    {
        var observation = ObservationBuilder.Build(TestReadings(reversed: false), default, null);
        var leads = new LeadMap([0, 1, 2, 3], Rotation.Abc, 0);
        var clamps = new ClampMap([0, 1, 2], [reversed, false, false], -1, 1, 0);
        var fit = VoltageFit.Of(observation, leads);
        return new Situation(new Hypothesis(leads, clamps, default, 0, default), observation, fit, [Clamp.I1, Clamp.I2, Clamp.I3]);
    }
}
