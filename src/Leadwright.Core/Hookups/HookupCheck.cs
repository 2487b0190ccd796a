using Leadwright.Core.Hookups.Answers;
using Leadwright.Core.Hookups.Priors;

namespace Leadwright.Core.Hookups;

/// <summary>Names how every lead and clamp is connected.</summary>
/// <remarks>
/// Every arrangement of leads and clamps is weighed by Bayes' rule: how often such slips happen, times how well it explains
/// the voltages, the displacement of each current under what is known of the load, the sums of the currents and their
/// sizes. Nothing is compared with a threshold before the end; a reading that is missing only carries no weight. Arrangements
/// that no reading can tell apart are one answer. Derivation: docs/methods/hook-up-evidence.md. Accuracy measured on
/// simulated panels: docs/methods/hook-up-accuracy.md. Thread-safe.
/// </remarks>
public static class HookupCheck
{
    /// <summary>Probability of "all right" from which the verdict is <see cref="Verdict.Correct"/>.</summary>
    public const double CorrectFrom = 0.90;

    /// <summary>Probability of "all right" up to which the verdict is <see cref="Verdict.Faulty"/> when one answer stands out.</summary>
    public const double FaultyUpTo = 0.12;

    /// <summary>Probability from which an answer stands out.</summary>
    public const double NamedFrom = 0.70;

    /// <summary>Probability of "all right" up to which the verdict is <see cref="Verdict.Faulty"/> even where it is open which fault
    /// it is.</summary>
    public const double FaultyForSureUpTo = 0.001;

    /// <summary>Weighs every hook-up against the readings.</summary>
    /// <param name="readings">What the recorder shows.</param>
    /// <param name="options">What is known of the site.</param>
    /// <returns>The verdict. The same input gives the same answer.</returns>
    public static HookupVerdict Judge(PanelReadings readings, CheckOptions options) =>
        Judge(readings, options, CheckPriors.Default);

    /// <summary>Weighs every hook-up against the readings under other beliefs than the shipped ones.</summary>
    /// <param name="readings">What the recorder shows.</param>
    /// <param name="options">What is known of the site.</param>
    /// <param name="priors">What to believe before anything is read.</param>
    /// <returns>The verdict. The same input gives the same answer.</returns>
    /// <exception cref="ArgumentOutOfRangeException">An rms value is below zero, or a number beyond anything that a recorder shows. What is no
    /// number (NaN, an infinity) counts as not shown.</exception>
    public static HookupVerdict Judge(PanelReadings readings, CheckOptions options, CheckPriors priors)
    {
        ArgumentNullException.ThrowIfNull(readings);
        ArgumentNullException.ThrowIfNull(options);
        ArgumentNullException.ThrowIfNull(priors);
        readings = ReadingNumbers.Usable(readings);
        if (readings.IsServiceOpen) return ServiceSearch.Infer(readings, options, priors);
        var stated = new Weighing(readings, options, priors);
        return ServiceSearch.IsInDoubt(stated, readings)
            ? ServiceSearch.Compare(stated, readings, options, priors)
            : stated.ToVerdict([]);
    }
}
