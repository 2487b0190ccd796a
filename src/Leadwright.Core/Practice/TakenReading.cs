using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Settling;

namespace Leadwright.Core.Practice;

/// <summary>What was found by one more reading or switching action.</summary>
/// <param name="Action">What was done.</param>
/// <param name="Answer">What was found, in the words of <see cref="SettlingKind"/>: volts, amperes, <c>I2,up</c>, <c>abc</c>.</param>
/// <param name="After">What the instrument shows afterwards, where a load was switched; else null.</param>
public sealed record TakenReading(SettlingAction Action, string Answer, PanelReadings? After = null)
{
    /// <summary>The same as the check of hook-ups is told it.</summary>
    public ToldAnswer Told => new(Action, Answer);
}
