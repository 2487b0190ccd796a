using System.Globalization;
using Leadwright.Core.Hookups;
using Leadwright.Core.Wording;

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
                Say.Of("note.the-angles-fit-only-if", "The angles fit only if the instrument counts lagging angles as positive; they were taken so. Look in its manual."),
            NoteKind.AnglesFitLeadPositive =>
                Say.Of("note.the-angles-fit-only-if-2", "The angles fit only if the instrument counts leading angles as positive; they were taken so. Look in its manual."),
            NoteKind.CurrentAnglesFitOwnVoltage =>
                Say.Of("note.the-angles-of-the-currents", "The angles of the currents fit only if each is counted from the voltage of its own phase; they were taken so."),
            NoteKind.PowerFitsLoadNegative => Say.Of("note.the-powers-fit-only-if", "The powers fit only if the instrument shows power to the load as negative; they were taken so."),
            NoteKind.PowerImpossible => Say.Of("note.watts-exceed-volts-times-amperes", "Watts exceed volts times amperes{channels}{note}: the value can't be true and was left out. Read it again.", ("channels", channels), ("note", Times(note.Value))),
            NoteKind.PowerContradictsAngles => Say.Of("note.watts-contradict-the-volts-amperes", "Watts contradict the volts, amperes and angles of the same phase{channels}. Read them again, all at one time.", ("channels", channels)),
            NoteKind.VoltageOffNominal => Say.Of("note.voltages-are-far-from-the", "Voltages{channels} are far from the nominal value{note}. Look at the nameplate and at the service stated.", ("channels", channels), ("note", OfNominal(note.Value))),
            NoteKind.FitsNothing => Say.Of("note.the-readings-fit-no-hook", "The readings fit no hook-up of this service well. Look at the service stated, and read everything again at one time."),
            NoteKind.NoCurrentAngles => Say.Of("note.nothing-was-read-that-tells", "Nothing was read that tells where the clamps are{channels}. Read the angles of the currents, or watts with their sign.", ("channels", channels)),
            NoteKind.NoVoltageAngles => Say.Of("note.nothing-was-read-that-tells-2", "Nothing was read that tells which lead is on which conductor. Read the angles of the voltages, or volts from line to line."),
            NoteKind.CurrentsDoNotAddUp => Say.Of("note.the-currents-leave-over-where", "The currents{channels} leave {note} over where they must add up to nothing: a ratio is off, a clamp is not closed, or a conductor is left out. Read each conductor with a hand clamp.", ("channels", channels), ("note", Part(note.Value))),
            NoteKind.NeutralFarFromGround => Say.Of("note.neutral-to-ground-reads-far", "Neutral to ground reads{note}, far from nothing: the neutral or the ground is open somewhere or heavily loaded, or lead VG is not on ground. Find out which before anything is judged.", ("note", Volts(note.Value))),
            NoteKind.ServiceInDoubt => Say.Of("note.the-readings-could-come-from", "The readings could come from another service, or from another nominal voltage. Look at the nameplate."),
            NoteKind.NotAllRead => Say.Of("note.nothing-was-read-of-what", "Nothing was read of {channels}: what is said of them is only how often such slips happen. Read them too, and check again.", ("channels", Phrases.Join(note.Channels))),
            NoteKind.NothingLive => Say.Of("note.no-voltage-to-speak-of", "No voltage to speak of{channels}: the board is dead, or the leads are not plugged in at the recorder. There is nothing to judge.", ("channels", channels)),
            NoteKind.LittleCurrent => Say.Of("note.the-currents-are-so-small", "The currents{channels} are so small that their angles say little. Check again under more load.", ("channels", channels)),
            NoteKind.CurrentsStandStill => Say.Of("note.the-voltages-changed-times-while", "The voltages changed {note} times while no clamp showed any of it{channels}: a clamp surrounds nothing, or a neighbour's loads were switched. Have a load in this board switched and check again.", ("note", Count(note.Value)), ("channels", channels)),
            NoteKind.ExportOrAllReversed =>
                Say.Of("note.all-clamps-the-wrong-way", "All clamps the wrong way round, and a site that sends power back, read the same: know which way the power flows."),
            NoteKind.RotationReadsReversed =>
                Say.Of("note.either-the-supply-turns-a", "Either the supply turns A-C-B, or the leads and clamps of two lines are exchanged together: look at a rotation indicator."),
            _ => throw new ArgumentOutOfRangeException(nameof(note), note.Kind, "This is a bug in Leadwright: a note without words."),
        };
    }

    private static string Count(double count) => double.IsFinite(count) ? count.ToString("0", CultureInfo.InvariantCulture) : Say.Of("note.several", "several");

    private static string Volts(double volts) => double.IsFinite(volts) ? $" {Phrases.Size(volts, "V")}" : "";

    private static string Part(double fraction) => double.IsFinite(fraction)
        ? Say.Of("note.of-the-largest", "{fraction} % of the largest", ("fraction", Say.Number(100 * fraction, "0"))) : Say.Of("note.something", "something");

    private static string OfNominal(double fraction) => double.IsFinite(fraction)
        ? Say.Of("note.of-it", ": {fraction} % of it", ("fraction", Say.Number(100 * fraction, "0"))) : "";

    private static string Times(double ratio) => double.IsFinite(ratio)
        ? Say.Of("note.by-a-factor-of", " by a factor of {ratio}", ("ratio", Say.Number(ratio, "0.##"))) : "";
}
