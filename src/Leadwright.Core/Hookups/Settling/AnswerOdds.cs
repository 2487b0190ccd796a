using System.Globalization;

namespace Leadwright.Core.Hookups.Settling;

/// <summary>How likely a person's answer is under one arrangement, errors included.</summary>
internal static class AnswerOdds
{
    private const double SameVolts = 0.2;
    private const double SameAmperes = 0.08;
    private const double UnknownAmperes = 0.15;

    /// <summary>Probability of an answer; for amperes a number that goes with it.</summary>
    /// <param name="action">What was done.</param>
    /// <param name="answer">What was found.</param>
    /// <param name="situation">The arrangement.</param>
    /// <param name="showsPower">True when the instrument shows which way power moves.</param>
    /// <returns>NaN when the action makes no sense here.</returns>
    public static double Of(SettlingAction action, string answer, Situation situation, bool showsPower)
    {
        if (action.Kind == SettlingKind.HandClamp)
        {
            if (!situation.Service.Conductors.Contains(action.AtConductor!.Value)) return double.NaN;
            return WithErrors(action.Kind, HandClamp(situation, (int)action.AtConductor.Value, answer));
        }

        var predicted = Predictions.Of(action, situation, showsPower);
        if (predicted.Count == 0) return double.NaN;
        double match = 0;
        foreach (var (expected, probability) in predicted)
        {
            if (IsSame(action.Kind, expected, answer)) match += probability;
        }

        return WithErrors(action.Kind, match);
    }

    /// <summary>A wrong answer is any of the other answers, all alike.</summary>
    private static double WithErrors(SettlingKind kind, double match)
    {
        var error = SettlingRates.ErrorOf(kind);
        return ((1 - error) * match) + (error * (1 - match) / (SettlingRates.AnswersOf(kind) - 1));
    }

    /// <summary>True when an answer is the one that was expected.</summary>
    public static bool IsSame(SettlingKind kind, string expected, string answer) => kind switch
    {
        SettlingKind.Meter => IsSameVolts(Number(expected), Number(answer)),
        SettlingKind.Switched => IsSameMovement(expected, answer),
        _ => expected == answer,
    };

    /// <summary>How well a hand clamp's reading goes with what the arrangement says of a conductor: 1 when it is the same.</summary>
    private static double HandClamp(Situation situation, int place, string answer)
    {
        var expected = situation.AmperesIn(place);
        if (answer == "other") return double.IsNaN(expected) ? 0.5 : 0;
        if (double.IsNaN(expected)) return UnknownAmperes;
        var read = Number(answer);
        var nothing = Math.Max(0.02 * situation.LargestAmperes, 0.1);
        if (read < nothing || expected < nothing) return read < nothing && expected < nothing ? 1 : 0;
        var deviation = Math.Log(read / expected) / SameAmperes;
        return Math.Exp(-0.5 * deviation * deviation);
    }

    private static bool IsSameVolts(double expected, double read) =>
        expected < 1 ? read < 15 : Math.Abs((read / expected) - 1) < SameVolts;

    private static bool IsSameMovement(string expected, string answer)
    {
        if (expected == answer) return true;
        if (SettlingText.Movements(expected) is not { } moved || SettlingText.Movements(answer) is not { } told) return false;
        if (!moved.Keys.SequenceEqual(told.Keys)) return false;
        foreach (var (clamp, way) in told)
        {
            // A direction that was not said, or can't be seen, agrees with both.
            if (way != 0 && moved[clamp] != 0 && moved[clamp] != way) return false;
        }

        return true;
    }

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
