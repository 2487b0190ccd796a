using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Practice.Forms;

/// <summary>A recording with a known fault: is what is wanted of it exact after all, exact as far as the voltages are alike, a
/// model with an uncertainty, or lost?</summary>
/// <remarks>What each set of stored values allows is derived in docs/methods/mending.md; the tests undo each exact row on a simulated
/// panel, and show for each lost one two sites with the same record.</remarks>
internal sealed class StillSavedForm : IPracticeForm
{
    public const string Exact = "exact";
    public const string IfBalanced = "exact-if-balanced";
    public const string Modelled = "modelled";
    public const string Lost = "lost";

    /// <summary>The cases with what is right, the plain ones first.</summary>
    public static ImmutableArray<(RecordedCase Case, string Right)> Cases { get; } =
    [
        (new("clamp-reversed", "watts-and-vars", "energy"), Exact),
        (new("clamp-reversed", "watts", "energy"), Exact),
        (new("clamps-exchanged", "waveforms", "energy"), Exact),
        (new("clamps-exchanged", "volts-and-amperes", "energy"), Lost),
        (new("ratio-tenfold", "watts-and-vars", "energy"), Exact),
        (new("gap", "watts-and-vars", "energy"), Modelled),
        (new("gap", "watts-and-vars", "peak"), Lost),
        (new("clamp-reversed", "total-watts", "energy"), Modelled),
        (new("clamps-exchanged", "watts-and-vars", "energy"), IfBalanced),
        (new("clamps-exchanged", "watts", "energy"), Lost),
        (new("clamp-off", "watts-and-vars", "energy"), Modelled),
        (new("clamp-off-neutral-clamp", "waveforms", "energy"), Exact),
        (new("clamp-off-three-wire", "waveforms", "energy"), Exact),
        (new("lead-off", "waveforms", "energy"), Modelled),
        (new("lead-off", "waveforms", "dip"), Lost),
    ];

    private const int PlainCount = 7;

    public Exercise Make(ExerciseKey key)
    {
        var random = new SeededRandom(key.Seed).Fork(108);
        var first = key.Level == 3 ? PlainCount : 0;
        var count = key.Level == 1 ? PlainCount : Cases.Length - first;
        var (recorded, right) = Cases[first + random.Below(count)];
        return new Exercise
        {
            Key = key,
            Service = recorded.Fault == "clamp-off-three-wire" ? ServiceKind.Delta : ServiceKind.Wye,
            Nominal = new NominalVoltage(230, 400),
            Recorded = recorded,
            Choices = [Exact, IfBalanced, Modelled, Lost],
            RightChoices = [right],
        };
    }
}
