using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;

namespace Leadwright.Core.Tests.Integrity;

/// <summary>Days of minutes on a split service whose legs carry unlike loads.</summary>
public sealed class NeutralOfSplitTests
{
    private const int Rows = 2880;
    private const double Seconds = 60;

    // With the lead in the air the inputs halve what is between the legs, and no unequal load pulls them apart (derivation).
    [Fact]
    public void Voltages_that_halve_the_one_between_the_legs_under_unequal_loads_tell_the_neutral_lead_off()
    {
        var made = Made(isOff: true);
        var span = Assert.Single(made.Sure());
        Assert.Equal((SpanKind.NeutralOpen, Lead.VN, made.At(0), made.At(Rows)), (span.Kind, Assert.Single(span.Leads), span.From, span.To));
    }

    [Fact]
    public void With_the_lead_on_unequal_loads_pull_the_voltages_apart() => Assert.Empty(Made(isOff: false).Sure());

    // What is drawn out of one leg into the other comes back through no neutral: the voltages fall alike whether its lead is on or off.
    [Fact]
    public void Loads_between_the_legs_alone_tell_nothing()
    {
        var load = ServiceLog.Household(Rows, Seconds);
        var made = new ServiceLog(Rows, Seconds, ServiceKind.Split) { Load = (_, _) => (0.4, 0), Between = row => load(row, 0).InPhase };
        Assert.Empty(made.Sure());
    }

    private static ServiceLog Made(bool isOff) => new(Rows, Seconds, ServiceKind.Split) { Load = ServiceLog.Household(Rows, Seconds), IsNeutralOff = isOff };
}
