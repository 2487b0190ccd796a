using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Panels.Weeks;

namespace Leadwright.Core.Tests.Integrity;

/// <summary>Virtual weeks in which something was missed, named otherwise or made up until a relation was heard that tells; each line says which.</summary>
public sealed class MissedWeekTests
{
    [Theory]
    [InlineData(301, 129, SpanKind.RatioWrong, "I2", "half an hour of a tenth: both its edges fall within intervals of ten minutes")]
    [InlineData(301, 221, SpanKind.RatioWrong, "I1", "a tenth of a clamp whose voltage explains nothing: the answer has nothing to say against it")]
    [InlineData(302, 192, SpanKind.RatioWrong, "I1", "a tenth shows nothing by night, and is a tenth then too")]
    [InlineData(301, 156, SpanKind.LeadsOnSameConductor, "V1,V2", "two voltages keep one ratio by day, where generation makes angles silent")]
    [InlineData(301, 78, SpanKind.ClampsOnSameConductor, "I2,I3", "two currents keep one ratio by day, where generation makes angles silent")]
    [InlineData(302, 31, SpanKind.LeadsOnSameConductor, "V1,V2", "two legs that never part are one leg read twice, and no clamp is turned")]
    [InlineData(301, 182, SpanKind.LeadOpen, "V2", "without vars thirty degrees less sixty are thirty again: no turn makes the lead a guess")]
    [InlineData(301, 163, SpanKind.ClampsExchanged, "I1,I3", "without vars the voltages' answers make sure what angles only suggest")]
    [InlineData(301, 272, SpanKind.ClampsRotated, "I1,I2,I3", "by night the power tells which of two hook-ups is the right one")]
    [InlineData(301, 33, SpanKind.LeadOnNeutral, "V2", "a lead that picks up nothing between the mixed intervals of its edges")]
    [InlineData(301, 159, SpanKind.Stuck, "V1", "the only voltage stands still while the current moves")]
    [InlineData(301, 233, SpanKind.NoData, "", "no clock is set by half a day and hours")]
    [InlineData(301, 107, SpanKind.ClampOpen, "I2", "a leg whose voltage moves on its own carries a load that its clamp does not show")]
    [InlineData(302, 236, SpanKind.ClampReversed, "I3", "by day with generation a ratio must say more than a clamp turned round")]
    [InlineData(410, 87, SpanKind.ClampReversed, "I3", "the sum of the currents is heard by night too: no clamp turns round at nightfall")]
    [InlineData(410, 1, SpanKind.LeadsOnSameConductor, "V2,V3", "what two nights show alike lasts through the day between them")]
    public void What_was_missed_is_found_with_its_edges(ulong seed, int number, SpanKind kind, string channels, string because)
    {
        var (recipe, report) = Guard(seed, number);
        var mishap = recipe.Mishaps.First(entry => Names(entry.Kind, kind));
        DateTime from = recipe.Start.AddSeconds(mishap.FromSeconds), to = recipe.Start.AddSeconds(mishap.ToSeconds);
        var reach = TimeSpan.FromSeconds(1.05 * recipe.IntervalSeconds);
        Assert.True(
            report.Spans.Any(span => span.Kind == kind && !span.IsDoubtful && (kind == SpanKind.NoData || Channels(span) == channels)
                && (span.From - from).Duration() <= reach && (span.To - to).Duration() <= reach),
            $"{because}: {string.Join("; ", report.Spans.Select(span => $"{span.Kind} {Channels(span)} {span.From:ddd HH:mm} to {span.To:ddd HH:mm} {span.Confidence:0.00}"))}");
    }

    [Fact]
    public void Five_times_for_fifty_minutes_is_named_with_doubt_and_is_no_neutral_lead_in_the_air()
    {
        // A load that comes and goes within hours is commoner than a range set wrong and right again: common practice, no source.
        var (_, report) = Guard(301, 66);
        var span = Assert.Single(report.Spans, span => span.Kind == SpanKind.RatioWrong);
        Assert.True(span.IsDoubtful);
        Assert.Equal("I1", Channels(span));
        Assert.DoesNotContain(report.Spans, span => span.Kind == SpanKind.NeutralOpen);
    }

    [Theory]
    [InlineData(410, 107, SpanKind.ClampOpen, "a week's end that begins on Friday evening is lived another way")]
    [InlineData(410, 217, SpanKind.ClampsOnSameConductor, "two lines that keep still at one level for half an hour say so once")]
    public void What_did_not_happen_is_not_said(ulong seed, int number, SpanKind kind, string because)
    {
        var (_, report) = Guard(seed, number);
        Assert.False(report.Spans.Any(span => span.Kind == kind && !span.IsDoubtful), because);
    }

    private static (WeekRecipe Recipe, GuardReport Report) Guard(ulong seed, int number)
    {
        var week = new WeekPopulation { Seed = seed }.Week(number);
        var recipe = week.Recipe;
        return (recipe, IntervalGuard.Judge(
            week.Log, new GuardOptions { Service = recipe.Service, Nominal = recipe.Nominal, FrequencyHertz = recipe.Hertz, Check = new CheckOptions { MayExport = recipe.HasSolar } },
            TestContext.Current.CancellationToken));
    }

    private static bool Names(MishapKind made, SpanKind kind) => made switch
    {
        MishapKind.LeadMoved => kind == SpanKind.LeadsOnSameConductor,
        MishapKind.ClampMoved => kind == SpanKind.ClampsOnSameConductor,
        MishapKind.LeadOff => kind == SpanKind.LeadOpen,
        MishapKind.ClampOff => kind == SpanKind.ClampOpen,
        MishapKind.RecorderOff => kind == SpanKind.NoData,
        _ => made.ToString() == kind.ToString(),
    };

    private static string Channels(GuardSpan span) => string.Join(",", span.Leads.Select(lead => $"{lead}").Concat(span.Clamps.Select(clamp => $"{clamp}")));
}
