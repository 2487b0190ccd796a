using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Hypotheses;
using Leadwright.Core.Hookups.Steps;

namespace Leadwright.Core.Tests.Hookups.Parts;

/// <summary>Whose current the clamps tell, by Kirchhoff's current law alone.</summary>
public sealed class ConductorCurrentsTests
{
    [Fact]
    public void The_one_conductor_without_a_clamp_takes_what_the_others_leave()
    {
        var three = Read(ServiceKind.Wye, 0, 1, 2);
        Assert.Equal((Place.N, 0, -1, false, false), (three.Rest, three.Unknown, three.Unread, three.Closes, three.KnowsNeutral));

        var line = Read(ServiceKind.Wye, 0, 1, Place.N);
        Assert.Equal((2, 0, true), (line.Rest, line.Unknown, line.KnowsNeutral));

        var wires = Read(ServiceKind.Delta, 0, 2);
        Assert.Equal((1, 0, false), (wires.Rest, wires.Unknown, wires.KnowsNeutral));
    }

    [Fact]
    public void With_a_clamp_on_each_conductor_the_currents_close()
    {
        var all = Read(ServiceKind.Wye, 0, 1, 2, Place.N);
        Assert.Equal((-1, 0, true, true, 4), (all.Rest, all.Unknown, all.Closes, all.KnowsNeutral, all.ReadCount));
    }

    [Fact]
    public void A_line_and_the_neutral_without_clamps_leave_the_line_unknown_and_the_neutral_what_is_left()
    {
        var two = Read(ServiceKind.Wye, 0, 2);
        Assert.Equal((Place.N, 0b010, 1), (two.Rest, two.Unknown, two.Unread));

        // Of two unread lines neither is the one.
        var one = Read(ServiceKind.Wye, 1);
        Assert.Equal((Place.N, 0b101, -1), (one.Rest, one.Unknown, one.Unread));
    }

    [Fact]
    public void Without_the_neutrals_clamp_a_line_worked_out_with_its_help_is_known_no_more()
    {
        var line = Read(ServiceKind.Wye, 0, 1, Place.N);
        line.Lose(Place.N);
        Assert.Equal((Place.N, 0b100, 2, false), (line.Rest, line.Unknown, line.Unread, line.KnowsNeutral));

        // Where every line has its own, nothing is lost but the check.
        var all = Read(ServiceKind.Wye, 0, 1, 2, Place.N);
        all.Lose(Place.N);
        Assert.Equal((Place.N, 0, false), (all.Rest, all.Unknown, all.Closes));

        // The first line counts like the others.
        var first = Read(ServiceKind.Wye, 1, 2, Place.N);
        first.Lose(Place.N);
        Assert.Equal((Place.N, 0b001, 0), (first.Rest, first.Unknown, first.Unread));
    }

    [Fact]
    public void A_turned_clamp_at_a_tenth_counts_ten_times_the_other_way()
    {
        var currents = new ConductorCurrents();
        currents.Read(new ClampMap([0, 1, 2], [false, true, false], 1, 0.1, 0), [0, 1, 2], Service.Of(ServiceKind.Wye));
        Assert.Equal([1, -10, 1, 0], currents.Scale);
    }

    private static ConductorCurrents Read(ServiceKind service, params int[] on)
    {
        var currents = new ConductorCurrents();
        currents.Read(new ClampMap(on, new bool[on.Length], -1, 1, 0), [.. Enumerable.Range(0, on.Length)], Service.Of(service));
        return currents;
    }
}
