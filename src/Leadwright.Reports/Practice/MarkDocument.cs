using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Core.Hookups;
using Leadwright.Core.Practice;
using Leadwright.Reports.Hookups;

namespace Leadwright.Reports.Practice;

/// <summary>How one lead or clamp was answered, in words.</summary>
/// <param name="Device">Its name.</param>
/// <param name="IsRight">Whether it was answered right.</param>
/// <param name="Truth">Where it is, such as <c>on C, facing the source</c>.</param>
/// <param name="Said">Where the trainee said it is.</param>
public sealed record MarkedDevice(string Device, bool IsRight, string Truth, string Said);

/// <summary>A mark in words.</summary>
public sealed record MarkDocument
{
    /// <summary>The mark.</summary>
    public required PracticeMark Mark { get; init; }

    /// <summary>What the check of hook-ups says; null where the form shows no readings, or it was not asked.</summary>
    public SecondOpinion? Opinion { get; init; }

    /// <summary>Right or wrong, in one sentence.</summary>
    public required string Headline { get; init; }

    /// <summary>What the points are made of.</summary>
    public required string Score { get; init; }

    /// <summary>Each lead and clamp.</summary>
    public ImmutableArray<MarkedDevice> Devices { get; init; } = [];

    /// <summary>What is really so, one sentence each.</summary>
    public required ImmutableArray<string> Truth { get; init; }

    /// <summary>What the check of hook-ups says on the same readings; empty when it was not asked.</summary>
    public string OpinionSays { get; init; } = "";

    /// <summary>Its evidence; empty when it was not asked.</summary>
    public ImmutableArray<string> Evidence { get; init; } = [];

    /// <summary>What there is to learn; empty for none.</summary>
    public string Lesson { get; init; } = "";

    /// <summary>Puts a mark into words.</summary>
    /// <param name="mark">The mark.</param>
    /// <param name="opinion">What the check says; null when it was not asked.</param>
    /// <param name="naming">How the conductors are called; null for letters alone.</param>
    public static MarkDocument Of(PracticeMark mark, SecondOpinion? opinion = null, ConductorNaming? naming = null)
    {
        ArgumentNullException.ThrowIfNull(mark);
        naming ??= ConductorNaming.Letters;
        return new MarkDocument
        {
            Mark = mark,
            Opinion = opinion,
            Headline = HeadlineOf(mark),
            Score = ScoreOf(mark),
            Devices = [.. mark.Devices.Select(device => new MarkedDevice(device.Device, device.IsRight, Place(device.Device, device.Truth), Place(device.Device, device.Said)))],
            Truth = TruthOf(mark, naming),
            OpinionSays = opinion is null ? "" : Says(mark, opinion),
            Evidence = opinion is null ? [] : [.. CheckDocument.Of("", opinion.Verdict, naming).Evidence.Select(entry => $"{(entry.IsFor ? "For" : "Against")}. {entry.Title}. {entry.Says}")],
            Lesson = PracticeWording.Lesson(mark.Exercise),
        };
    }

    private static string HeadlineOf(PracticeMark mark)
    {
        if (mark.ReadsAlike) return "Right: it is connected otherwise, but nothing on these channels can tell the two apart.";
        if (mark.IsRight) return "Right.";
        if (mark.Devices.IsEmpty) return "Not right.";
        var right = mark.Devices.Count(device => device.IsRight);
        return string.Create(CultureInfo.InvariantCulture, $"Not right: {right} of {mark.Devices.Length} leads and clamps are where you said.");
    }

    private static string ScoreOf(PracticeMark mark)
    {
        var steps = mark.Steps == 0 ? "" : string.Create(
            CultureInfo.InvariantCulture, $", {Signed(mark.StepPoints)} for {mark.Steps} further {(mark.Steps == 1 ? "reading" : "readings")}");
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{Signed(mark.Points)} points: {mark.PlacePoints:0} for {(mark.Devices.IsEmpty ? "the answer" : "the places")}, {Signed(mark.ConfidencePoints)} for saying {100 * mark.Answer.Confidence:0} % sure{steps}.");
    }

    private static string Signed(double points) => Math.Round(points) switch
    {
        < 0 and var minus => string.Create(CultureInfo.InvariantCulture, $"−{-minus:0}"),
        var plus => string.Create(CultureInfo.InvariantCulture, $"{Math.Abs(plus):0}"),
    };

    private static ImmutableArray<string> TruthOf(PracticeMark mark, ConductorNaming naming)
    {
        var says = ImmutableArray.CreateBuilder<string>();
        if (!mark.RightChoices.IsEmpty)
            says.Add(Phrases.Sentence($"right {(mark.RightChoices.Length == 1 ? "is" : "are")}: {string.Join("; ", mark.RightChoices.Select(choice => PracticeWording.Choice(mark.Exercise, choice)))}"));
        if (TruthVerdict.Of(mark) is not { } truth) return says.ToImmutable();
        if (truth.Verdict == Verdict.Correct)
        {
            says.Add("Every lead and clamp is where it belongs.");
            return says.ToImmutable();
        }

        foreach (var fault in mark.Faults) says.Add(Phrases.Sentence(FaultWording.Clause(fault, truth.Best, mark.Exercise.Service, naming)));
        return says.ToImmutable();
    }

    private static string Says(PracticeMark mark, SecondOpinion opinion)
    {
        var sure = ConfidenceWording.Percent(opinion.Verdict.Best.Probability);
        var told = mark.Steps == 0 ? "these readings" : "these readings and what you found";
        if (opinion.CouldBeKnown) return $"On {told} the check names the truth with {sure}: it could be known.";
        if (opinion.NamesTruth) return $"On {told} the check finds the truth likeliest, but with {sure} only: nobody could be sure.";
        return opinion.Verdict.Best.Probability >= HookupCheck.NamedFrom
            ? $"On {told} the check itself is misled: it gives {sure} to another hook-up. Nobody could know without a further reading."
            : $"On {told} nobody could know: the check gives its likeliest answer {sure}, and that is not the truth.";
    }

    private static string Place(string device, ClampPlace place)
    {
        if (place.On is not { } on) return device.StartsWith('V') ? "in the air" : "on nothing";
        var text = $"on {ConductorNaming.Brief(on)}";
        if (device.StartsWith('V')) return text;
        text += place.Reversed ? ", facing the source" : ", facing the load";
        return place.Scale == 1 ? text : $"{text}, reading {Phrases.Ratio(place.Scale)}";
    }
}
