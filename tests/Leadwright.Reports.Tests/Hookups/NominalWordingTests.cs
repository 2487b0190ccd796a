using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Reports.Hookups;

namespace Leadwright.Reports.Tests.Hookups;

public sealed class NominalWordingTests
{
    [Fact]
    public void It_says_what_was_read_what_was_stated_and_what_to_state() => Assert.Equal(
        "V1, V2 and V3 read 230 V from line to neutral; the nominal voltage stated, 577/999 V, makes that 577 V. Look at the nameplate: by what was read it says 230/400. State that (--nominal 230/400); "
        + "what is judged by the nominal voltage means nothing until then.",
        Say(ServiceKind.Wye, "999", 230, 230, 230));

    [Fact]
    public void The_ratio_of_line_to_neutral_is_named_as_the_cause()
    {
        Assert.Contains("√3 times as much: the voltage to neutral was stated as the one from line to line, it seems, or these columns hold voltages from line to line.", Say(ServiceKind.Wye, "230", 230, 230, 230), StringComparison.Ordinal);
        Assert.Contains("2 times less: the voltage from line to line was stated, it seems, and one lead is on the neutral.", Say(ServiceKind.Single, "240", 120), StringComparison.Ordinal);
        Assert.Contains("transformers", Say(ServiceKind.Wye, "6350/11000", 63.5, 63.5, 63.5), StringComparison.Ordinal);
    }

    [Fact]
    public void Nothing_is_said_of_voltages_that_fit() => Assert.Empty(Say(ServiceKind.Wye, "230/400", 230, 230, 230));

    private static string Say(ServiceKind service, string stated, params double[] volts) => NominalWording.Of(NominalMisfit.Find(
        Enumerable.Range(0, volts.Length).ToDictionary(line => Channel.V1 + line, line => volts[line]), service, NominalVoltage.TryParse(stated, service, out var nominal) ? nominal : null));
}
