using System.Globalization;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Wording;

namespace Leadwright.Reports.Hookups;

/// <summary>Says that the voltages are far from the nominal voltage that was stated, and what to state instead.</summary>
public static class NominalWording
{
    /// <summary>The note in some sentences; empty for null.</summary>
    /// <param name="misfit">What was found.</param>
    public static string Of(NominalMisfit? misfit)
    {
        if (misfit is null) return "";
        var read = Say.Of(
            "nominal.read-against-stated", "{channels} read {read} V {between}; the nominal voltage stated, {stated} V, makes that {expected} V.",
            ("channels", Phrases.Join(misfit.Channels)), ("read", Phrases.ThreeDigits(misfit.ReadVolts)), ("between", Between(misfit)), ("stated", Nameplate(misfit.Stated, misfit.Service)), ("expected", Phrases.ThreeDigits(misfit.ExpectedVolts)));
        var instead = misfit.Nearest is { } nearest
            ? Say.Of("nominal.state-instead", "Look at the nameplate: by what was read it says {nearest}. State that (--nominal {nearest}); what is judged by the nominal voltage means nothing until then.", ("nearest", Nameplate(nearest, misfit.Service)))
            : Say.Of("nominal.none-is-near", "Look at the nameplate and state what it says: no usual nominal voltage is near what was read, and what is judged by the one stated means nothing.");
        return string.Join(' ', new[] { read, Cause(misfit), instead }.Where(sentence => sentence.Length > 0));
    }

    private static string Between(NominalMisfit misfit) => misfit.ArePairs
        ? Say.Of("nominal.from-line-to-line", "from line to line")
        : misfit.Service switch
        {
            ServiceKind.Single => Say.Of("nominal.between-the-leads", "between the two leads"),
            ServiceKind.Delta or ServiceKind.DeltaTwoClamp => Say.Of("nominal.from-line-to-the-middle", "from each line to the middle of the lines"),
            _ => Say.Of("nominal.from-line-to-neutral", "from line to neutral"),
        };

    private static string Cause(NominalMisfit misfit)
    {
        var times = Math.Abs(Math.Abs(Math.Log(misfit.Ratio)) - Math.Log(2)) < 0.06 ? "2" : "√3";
        return (misfit.Cause, misfit.ArePairs, misfit.Service == ServiceKind.Single) switch
        {
            (NominalMisfitCause.LineRatioAbove, _, true) => Say.Of("nominal.leads-on-two-lines", "It is {times} times as much: the voltage to neutral was stated, it seems, and the leads are on two lines.", ("times", times)),
            (NominalMisfitCause.LineRatioBelow, _, true) => Say.Of("nominal.lead-on-the-neutral", "It is {times} times less: the voltage from line to line was stated, it seems, and one lead is on the neutral.", ("times", times)),
            (NominalMisfitCause.LineRatioAbove, false, _) => Say.Of(
                "nominal.neutral-for-line", "It is {times} times as much: the voltage to neutral was stated as the one from line to line, it seems, or these columns hold voltages from line to line.", ("times", times)),
            (NominalMisfitCause.LineRatioAbove, true, _) => Say.Of("nominal.neutral-for-line-of-pairs", "It is {times} times as much: the voltage to neutral was stated as the one from line to line, it seems.", ("times", times)),
            (NominalMisfitCause.LineRatioBelow, false, _) => Say.Of("nominal.line-for-neutral", "It is {times} times less: the voltage from line to line was stated as the one to neutral, it seems.", ("times", times)),
            (NominalMisfitCause.LineRatioBelow, true, _) => Say.Of(
                "nominal.line-for-neutral-of-pairs", "It is {times} times less: these columns hold voltages to neutral, it seems, or the voltage from line to line was stated as the one to neutral.", ("times", times)),
            (NominalMisfitCause.Transformer, _, _) => Say.Of("nominal.ratio-left-out", "A ratio of voltage transformers, or the k of kV, was left out, it seems."),
            _ => "",
        };
    }

    // As it is written after --nominal.
    private static string Nameplate(NominalVoltage nominal, ServiceKind service) => service switch
    {
        ServiceKind.Single => Number(nominal.LineToNeutralVolts),
        ServiceKind.Delta or ServiceKind.DeltaTwoClamp => Number(nominal.LineToLineVolts),
        _ => $"{Number(nominal.LineToNeutralVolts)}/{Number(nominal.LineToLineVolts)}",
    };

    private static string Number(double volts) => volts.ToString("0", CultureInfo.InvariantCulture);
}
