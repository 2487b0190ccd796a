namespace Leadwright.Core.Practice;

/// <summary>Scores a stated confidence so that it pays to say what one believes.</summary>
/// <remarks>The quadratic score of G. W. Brier, Monthly Weather Review 78 (1950) 1: (p − o)², o being 1 when the answer is right and 0
/// when it is wrong. It is proper: the expected score is best when p is the true probability. Points are a straight line of it, so
/// they are proper too.</remarks>
public static class ConfidenceScore
{
    /// <summary>The Brier score of one answer: 0 best, 1 worst.</summary>
    /// <param name="confidence">The stated probability of being right, 0 to 1.</param>
    /// <param name="isRight">Whether the answer is right.</param>
    /// <exception cref="ArgumentOutOfRangeException">The confidence is not from 0 to 1.</exception>
    public static double Brier(double confidence, bool isRight)
    {
        if (!(confidence >= 0 && confidence <= 1))
            throw new ArgumentOutOfRangeException(nameof(confidence), confidence, "A confidence lies from 0 to 1.");
        var miss = confidence - (isRight ? 1 : 0);
        return miss * miss;
    }

    /// <summary>1 for sure and right, 0 for fifty-fifty, −3 for sure and wrong: 1 − 4 times the Brier score.</summary>
    /// <param name="confidence">The stated probability of being right, 0 to 1.</param>
    /// <param name="isRight">Whether the answer is right.</param>
    /// <exception cref="ArgumentOutOfRangeException">The confidence is not from 0 to 1.</exception>
    public static double Points(double confidence, bool isRight) => 1 - (4 * Brier(confidence, isRight));
}
