using System.Globalization;
using Leadwright.Core.Hookups;

namespace Leadwright.Reports.Hookups;

/// <summary>Says what a person must know about the readings themselves.</summary>
public static class NoteWording
{
    /// <summary>One note in a sentence or two.</summary>
    /// <param name="note">The note. Its value is read as a fraction of nominal for <see cref="NoteKind.VoltageOffNominal"/>, and
    /// as watts divided by volt-amperes for <see cref="NoteKind.PowerImpossible"/>; elsewhere it is not said.</param>
    public static string Of(Note note)
    {
        ArgumentNullException.ThrowIfNull(note);
        var channels = note.Channels.IsDefaultOrEmpty ? "" : $" ({Phrases.Join(note.Channels)})";
        return note.Kind switch
        {
            NoteKind.AnglesFitLagPositive =>
                "The angles fit only if the instrument counts lagging angles as positive; they were taken so. Look in its manual.",
            NoteKind.AnglesFitLeadPositive =>
                "The angles fit only if the instrument counts leading angles as positive; they were taken so. Look in its manual.",
            NoteKind.CurrentAnglesFitOwnVoltage =>
                "The angles of the currents fit only if each is counted from the voltage of its own phase; they were taken so.",
            NoteKind.PowerFitsLoadNegative => "The powers fit only if the instrument shows power to the load as negative; they were taken so.",
            NoteKind.PowerImpossible => $"Watts exceed volts times amperes{channels}{Times(note.Value)}: the value can't be true and was left out. "
                + "Read it again.",
            NoteKind.PowerContradictsAngles => $"Watts contradict the volts, amperes and angles of the same phase{channels}. Read them again, all at one time.",
            NoteKind.VoltageOffNominal => $"Voltages{channels} are far from the nominal value{OfNominal(note.Value)}. Look at the nameplate and at the service stated.",
            NoteKind.FitsNothing => "The readings fit no hook-up of this service well. Look at the service stated, and read everything again at one time.",
            NoteKind.NoCurrentAngles => $"Nothing was read that tells where the clamps are{channels}. Read the angles of the currents, or watts with their sign.",
            NoteKind.NoVoltageAngles => "Nothing was read that tells which lead is on which conductor. Read the angles of the voltages, or volts from line to line.",
            NoteKind.CurrentsDoNotAddUp => $"The currents{channels} leave {Part(note.Value)} over where they must add up to nothing: "
                + "a ratio is off, a clamp is not closed, or a conductor is left out. Read each conductor with a hand clamp.",
            NoteKind.NeutralFarFromGround => $"Neutral to ground reads{Volts(note.Value)}, far from nothing: the neutral or the ground is open somewhere "
                + "or heavily loaded, or lead VG is not on ground. Find out which before anything is judged.",
            NoteKind.ServiceInDoubt => "The readings could come from another service, or from another nominal voltage. Look at the nameplate.",
            NoteKind.NotAllRead => $"Nothing was read of {Phrases.Join(note.Channels)}: what is said of them is only how often such slips happen.",
            NoteKind.NothingLive => $"No voltage to speak of{channels}: the board is dead, or the leads are not plugged in at the recorder. "
                + "There is nothing to judge.",
            NoteKind.LittleCurrent => $"The currents{channels} are so small that their angles say little. Check again under more load.",
            NoteKind.CurrentsStandStill => $"The voltages changed {Count(note.Value)} times while no clamp showed any of it{channels}: a clamp surrounds nothing, or a "
                + "neighbour's loads were switched. Have a load in this board switched and check again.",
            NoteKind.ExportOrAllReversed =>
                "All clamps the wrong way round, and a site that sends power back, read the same: know which way the power flows.",
            NoteKind.RotationReadsReversed =>
                "Either the supply turns A-C-B, or the leads and clamps of two lines are exchanged together: look at a rotation indicator.",
            _ => throw new ArgumentOutOfRangeException(nameof(note), note.Kind, "This is a bug in Leadwright: a note without words."),
        };
    }

    private static string Count(double count) => double.IsFinite(count) ? count.ToString("0", CultureInfo.InvariantCulture) : "several";

    private static string Volts(double volts) => double.IsFinite(volts) ? $" {Phrases.Size(volts, "V")}" : "";

    private static string Part(double fraction) => double.IsFinite(fraction)
        ? string.Create(CultureInfo.InvariantCulture, $"{100 * fraction:0} % of the largest") : "something";

    private static string OfNominal(double fraction) => double.IsFinite(fraction)
        ? string.Create(CultureInfo.InvariantCulture, $": {100 * fraction:0} % of it") : "";

    private static string Times(double ratio) => double.IsFinite(ratio)
        ? string.Create(CultureInfo.InvariantCulture, $" by a factor of {ratio:0.##}") : "";
}
