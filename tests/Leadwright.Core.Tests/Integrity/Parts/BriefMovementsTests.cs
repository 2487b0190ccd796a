using Leadwright.Core.Integrity.Chains;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>What is over sooner than hands move a lead or clamp and put it back.</summary>
public sealed class BriefMovementsTests
{
    [Theory]
    // Two rows are no movement, however long a row is; three are, and twenty minutes at least.
    [InlineData("0110", 600, "0000")]
    [InlineData("01110", 600, "01110")]
    [InlineData("01110", 300, "00000")]
    [InlineData("011110", 300, "011110")]
    // At the ends of a recording as elsewhere.
    [InlineData("110", 600, "000")]
    [InlineData("0011", 3600, "0000")]
    // One that goes over into another is each for itself.
    [InlineData("011222", 600, "000222")]
    public void What_lasts_for_less_than_three_rows_or_twenty_minutes_is_dropped(string history, double seconds, string kept) => Assert.Equal(kept, Dropped(history, seconds));

    [Theory]
    [InlineData("0111001110", "0111001110")]
    [InlineData("011100111001110", "000000000000000")]
    // Another movement beside it is no repetition; nor is one that lasts for two hours.
    [InlineData("011100222001110", "011100222001110")]
    [InlineData("0111001110011100111111111111", "0000000000000000111111111111")]
    public void What_comes_for_less_than_two_hours_three_times_is_dropped(string history, string kept) => Assert.Equal(kept, Dropped(history, 600));

    [Fact]
    public void An_empty_history_and_one_in_which_nothing_was_moved_stay()
    {
        Assert.Equal("", Dropped("", 600));
        Assert.Equal("0000", Dropped("0000", 600));
    }

    private static string Dropped(string history, double seconds)
    {
        byte[] states = [.. history.Select(letter => (byte)(letter - '0'))];
        BriefMovements.Drop(states, seconds);
        return string.Concat(states);
    }
}
