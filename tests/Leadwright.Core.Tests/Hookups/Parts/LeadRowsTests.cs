using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Hypotheses;
using Leadwright.Core.Hookups.Steps;

namespace Leadwright.Core.Tests.Hookups.Parts;

/// <summary>Which potentials a voltage channel reads, lead by lead.</summary>
public sealed class LeadRowsTests
{
    private static readonly Channel[] s_phases = [Channel.V1, Channel.V2, Channel.V3];

    [Fact]
    public void A_channel_reads_its_conductor_against_the_one_of_the_neutral_lead()
    {
        var rows = Of(ServiceKind.Wye, [0, 3, 2, 1]);
        Assert.Equal([1, -1, 0, 0, 0, -1, 0, 1, 0, -1, 1, 0], rows.Rows);
        Assert.DoesNotContain(true, rows.IsOpen);
    }

    [Fact]
    public void A_lead_in_the_air_follows_no_conductor()
    {
        var rows = Of(ServiceKind.Wye, [0, Place.Air, 2, 3]);
        Assert.Equal([false, true, false], rows.IsOpen);
        Assert.Equal([0, 0, 0, 0], rows.Rows[4..8]);
    }

    [Fact]
    public void With_the_neutral_lead_in_the_air_each_channel_reads_against_the_mean_of_those_that_are_connected()
    {
        var three = Of(ServiceKind.Wye, [0, 1, 2, Place.Air]);
        Assert.All(new[] { 2 / 3.0, -1 / 3.0, -1 / 3.0, 0 }.Zip(three.Rows), pair => Assert.Equal(pair.First, pair.Second, 12));
        Assert.DoesNotContain(true, three.IsOpen);

        // Two are enough for a mean; one alone reads against itself, which is nothing.
        var two = Of(ServiceKind.Wye, [0, 1, Place.Air, Place.Air]);
        Assert.Equal([0.5, -0.5, 0, 0], two.Rows[..4]);
        Assert.Equal([false, false, true], two.IsOpen);
        Assert.Equal([true, true, true], Of(ServiceKind.Wye, [0, Place.Air, Place.Air, Place.Air]).IsOpen);
    }

    [Fact]
    public void On_three_wires_pairs_read_one_line_against_the_next()
    {
        var rows = LeadRows.Of(new LeadMap([0, 1, 2, -1], Rotation.Abc, 0), Service.Of(ServiceKind.Delta), [Channel.V12, Channel.V23, Channel.V31]);
        Assert.Equal([1, -1, 0, 0, 0, 1, -1, 0, -1, 0, 1, 0], rows.Rows);
    }

    [Fact]
    public void A_channel_that_hangs_between_the_others_reads_their_mean_against_the_neutral_lead()
    {
        var map = new LeadMap([0, 1, Place.Air, 3], Rotation.Abc, 0);
        var hanging = LeadRows.Of(map, Service.Of(ServiceKind.Wye), s_phases).Hanging(2, map)!;
        Assert.Equal([0.5, 0.5, 0, -1], hanging.Rows[8..12]);
        Assert.Null(hanging.Hanging(2, new LeadMap([0, 1, Place.Air, Place.Air], Rotation.Abc, 0)));
    }

    private static LeadRows Of(ServiceKind service, int[] on) => LeadRows.Of(new LeadMap(on, Rotation.Abc, 0), Service.Of(service), s_phases);
}
