using Leadwright.Core.Logs;
using Leadwright.Formats.Logs;
using Leadwright.Formats.Matching;

namespace Leadwright.Formats.Tests.Logs;

/// <summary>What a person says of a column, against the unit that its heading names.</summary>
public sealed class ColumnStatementTests
{
    private const string Text = "time,V1 (V),Strom L1 kV,Q1 (kW)\n2026-03-02 10:00,230,40.5,2\n2026-03-02 10:15,231,41.5,3\n2026-03-02 10:30,232,42.5,4\n";

    [Fact]
    public void A_column_stated_to_hold_a_current_takes_no_scale_from_a_unit_of_voltage()
    {
        var file = Read(new ColumnStatement("3", LogQuantity.Current, LogPlace.Phase1));

        Assert.Equal(40.5, file.Log.Values(file.Log.IndexOf(LogQuantity.Current, LogPlace.Phase1))[0]);
        Assert.Contains(file.Warnings, warning => warning.Says.Contains("'Strom L1 kV' names a unit of another quantity", StringComparison.Ordinal));
    }

    [Fact]
    public void Vars_below_a_heading_in_kilowatts_keep_its_prefix()
    {
        var file = Read(new ColumnStatement("4", LogQuantity.ReactivePower, LogPlace.Phase1));

        Assert.Equal(2000, file.Log.Values(file.Log.IndexOf(LogQuantity.ReactivePower, LogPlace.Phase1))[0]);
    }

    [Fact]
    public void A_unit_stated_for_another_quantity_is_refused_and_says_what_to_correct()
    {
        var refusal = Assert.Throws<FormatReadException>(() => Read(new ColumnStatement("3", LogQuantity.Current, LogPlace.Phase1) { Unit = "kV" }));

        Assert.Contains("in A, or in a multiple of it", refusal.Message, StringComparison.Ordinal);
        Assert.Contains("Correct what is said of the column", refusal.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_column_kept_under_its_own_name_is_read_the_same_by_a_profile()
    {
        var first = Read();
        var again = ReadLog.Of(TestData.Text("a.csv", Text), new LogReadOptions { Profiles = [ColumnProfile.Of(first)] });

        var at = first.Log.IndexOf(LogQuantity.Other, LogPlace.Whole);
        Assert.Equal(40.5, first.Log.Values(at)[0]);
        Assert.Equal(first.Log.Values(at).ToArray(), again.Log.Values(at).ToArray());
    }

    [Fact]
    public void Two_columns_of_one_heading_stay_which_they_were_by_a_profile()
    {
        const string Twice = "time,V1 (V),I1 (A),I1 (A)\n2026-03-02 10:00,230,41,9\n2026-03-02 10:15,231,42,8\n2026-03-02 10:30,232,43,7\n";
        var first = ReadLog.Of(TestData.Text("a.csv", Twice));
        var again = ReadLog.Of(TestData.Text("a.csv", Twice), new LogReadOptions { Profiles = [ColumnProfile.Of(first)] });

        Assert.Equal(41, first.Log.Values(first.Log.IndexOf(LogQuantity.Current, LogPlace.Phase1))[0]);
        Assert.Equal(41, again.Log.Values(again.Log.IndexOf(LogQuantity.Current, LogPlace.Phase1))[0]);
        Assert.Equal(9, again.Log.Values(again.Log.IndexOf(LogQuantity.Other, LogPlace.Phase1))[0]);
    }

    private static LogFile Read(params ColumnStatement[] columns) => ReadLog.Of(TestData.Text("a.csv", Text), new LogReadOptions { Columns = [.. columns] });
}
