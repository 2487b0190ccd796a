using Leadwright.Core.Logs;

namespace Leadwright.Core.Panels.Weeks;

/// <summary>A week of logged values of a site that exists only in numbers, with what really happened.</summary>
/// <param name="Recipe">What it was made from.</param>
/// <param name="Log">What the recorder wrote.</param>
/// <param name="Truth">What happened.</param>
/// <remarks>
/// The loads are switched second by second to minute by minute behind a source impedance; the recorder averages. How it is drawn, and what
/// is left out: docs/methods/virtual-weeks.md. It shares no arithmetic with the guard.
/// </remarks>
public sealed record VirtualWeek(WeekRecipe Recipe, IntervalLog Log, WeekTruth Truth)
{
    /// <summary>Makes a week.</summary>
    /// <param name="recipe">The recipe.</param>
    /// <exception cref="ArgumentException">The interval or the length is out of range.</exception>
    public static VirtualWeek Make(WeekRecipe recipe)
    {
        ArgumentNullException.ThrowIfNull(recipe);
        if (recipe.IntervalSeconds is < 1 or > 900)
            throw new ArgumentException($"The interval must be 1 to 900 seconds; found {recipe.IntervalSeconds}.", nameof(recipe));
        if (!(recipe.Days > 0)) throw new ArgumentException($"The week must last longer than nothing; found {recipe.Days} days.", nameof(recipe));
        return new WeekRun(recipe).Make();
    }
}
