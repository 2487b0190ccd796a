using Leadwright.Core.Hookups;

namespace Leadwright.Formats.Tests.FieldCases;

/// <summary>The check on hook-ups from the field. Source: tests/data/field-cases/cases.json, its standing in tests/data/README.md.</summary>
public class FieldCaseTests
{
    /// <summary>An unresolved case may be reported, but not with this confidence.</summary>
    private const double Overconfident = 0.9;

    /// <summary>Readings that get another verdict than they deserve, each with the reason. One that is met again must leave
    /// the list: the test says so.</summary>
    private static readonly Dictionary<string, string> s_open = new()
    {
        ["a-w01, row 3"] = "Phase 3 shows +0.035 of its apparent power, not −0.5, for the meter replays it some degrees off: left "
            + "open, with the exchange first. Rows 1 and 2 are named.",
        ["a-w08, heater coming on"] = "Soft: deduced, and the voltage was not posted. Equal currents at 0.45, 0.49, −1 also fit three clamps on one "
            + "conductor at power factor 0.5.",
        ["a-w08, heater on, 7.3 kVA a phase"] = "As the row before.",
        ["a-w08, heater on"] = "As the row before.",
        ["a-s01, house load"] = "Negative watts alone: with an unknown load the mixture still expects generation that nobody declared, and "
            + "the verdict stays open between a reversed clamp (first) and that.",
        ["a-u03, base"] = "Positive power on two wires is what a right hook-up shows; what puzzled the poster was the load.",
        ["a-u03, with the 2269 W heater"] = "As the row before.",
        ["a-u03, days later, base"] = "As the row before.",
    };

    public static TheoryData<string> Ids => [.. FieldCase.All.Keys];

    [Fact]
    public void Every_case_of_the_set_is_there() => Assert.Equal(25, FieldCase.All.Count);

    [Theory]
    [MemberData(nameof(Ids))]
    public void Field_case_gets_a_verdict_that_its_readings_deserve(string id)
    {
        var found = FieldCase.All[id];
        Assert.All(found.Readings, row =>
        {
            var name = $"{id}, {row.Label}";
            var complaints = Complaints(found, HookupCheck.Judge(row.Readings, found.Options)).ToList();
            if (!s_open.ContainsKey(name)) Assert.Empty(complaints);
            else Assert.True(complaints.Count > 0, $"'{name}' is met now: take it off the list of open ones.");
        });
    }

    [Fact]
    public void Open_readings_are_readings_of_the_set()
    {
        var names = FieldCase.All.Values.SelectMany(found => found.Readings.Select(row => $"{found.Id}, {row.Label}"));
        Assert.Subset(names.ToHashSet(), s_open.Keys.ToHashSet());
    }

    [Fact]
    public void Faulty_cases_are_called_faulty_or_left_open_never_right()
    {
        // Whatever else is open: a wrong hook-up with a confirmed cause must not pass.
        var wrong = FieldCase.All.Values.Where(found => found.Score == "hard" && !found.Verdicts.Contains(Verdict.Correct)).ToList();
        Assert.Equal(10, wrong.Count);
        Assert.All(
            wrong.SelectMany(found => found.Readings.Select(row => HookupCheck.Judge(row.Readings, found.Options))),
            verdict => Assert.NotEqual(Verdict.Correct, verdict.Verdict));
    }

    private static IEnumerable<string> Complaints(FieldCase found, HookupVerdict verdict)
    {
        var said = $"{verdict.Verdict} at {verdict.Best.Probability:0.000}";
        if (found.Score == "none")
        {
            if (verdict.Best.Probability >= Overconfident) yield return $"{said}, where nobody knows";
        }
        else
        {
            if (!found.Verdicts.Contains(verdict.Verdict)) yield return said;
            if (verdict.Verdict == Verdict.Faulty && !Hookups(verdict).Any(found.IsMetBy)) yield return $"{said}, but of something else";
        }

        if (Breaks(found.MustNot, verdict)) yield return $"{said}: {found.MustNot}";
    }

    /// <summary>The reported hook-up and those that read the same.</summary>
    private static IEnumerable<Hookup> Hookups(HookupVerdict verdict) =>
        verdict.Best.SameReading.Select(member => member.Hookup).Prepend(verdict.Best.Hookup);

    private static bool Breaks(string? mustNot, HookupVerdict verdict)
    {
        var reversed = verdict.Verdict == Verdict.Faulty
            ? verdict.Best.Faults.Where(fault => fault.Kind == FaultKind.ClampReversed).ToList() : [];
        return mustNot switch
        {
            null => false,
            "clamp-reversed" => reversed.Count > 0,
            "clamp-reversed on I1" => reversed.Any(fault => fault.Clamps.Contains(Clamp.I1)),
            "clamp-reversed on I2 or I3" => reversed.Any(fault => fault.Clamps.Contains(Clamp.I2) || fault.Clamps.Contains(Clamp.I3)),
            "clamp-reversed as the only fault" => reversed.Count > 0 && reversed.Count == verdict.Best.Faults.Length,
            "39 kW taken as real power" => verdict.Notes.All(note => note.Kind != NoteKind.PowerImpossible),
            "a verdict at 0.9 or more" => verdict.Best.Probability >= Overconfident,
            "a verdict faulty at 0.9 or more with the export option set" =>
                verdict.Verdict == Verdict.Faulty && verdict.Best.Probability >= Overconfident,
            // The check names leads and clamps and has no word for events of the supply: a lead must be named.
            "a dip or an outage on two phases called a supply event" =>
                verdict.Best.Faults.All(fault => fault.Kind != FaultKind.LeadOpen),
            _ => throw new InvalidOperationException($"This test does not know what '{mustNot}' means."),
        };
    }
}
