using System.Globalization;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Settling;
using Leadwright.Core.Practice;
using Leadwright.Reports.Hookups;

namespace Leadwright.Reports.Practice;

/// <summary>The words of the exercises: titles, questions, choices, and what there is to learn from each.</summary>
public static class PracticeWording
{
    /// <summary>The title of a form.</summary>
    public static string Title(PracticeForm form) => form switch
    {
        PracticeForm.Panel => "A panel with hidden faults",
        PracticeForm.NameTheFault => "Name the fault",
        PracticeForm.WhatNext => "Two answers: what next?",
        PracticeForm.HeaterTest => "The heater test",
        PracticeForm.PlausibleTotal => "A plausible total",
        PracticeForm.LeadOrSupply => "Lead or supply?",
        PracticeForm.CornerOrOpen => "Next to nothing to ground",
        PracticeForm.OpenNeutral => "Is the neutral there?",
        _ => "What can still be saved?",
    };

    /// <summary>One line on a form, for a list.</summary>
    public static string Summary(PracticeForm form) => form switch
    {
        PracticeForm.Panel => "Read, measure, switch a load; then say where every lead and clamp is.",
        PracticeForm.NameTheFault => "One screen of readings, and nothing else to go by.",
        PracticeForm.WhatNext => "Both fit the same screen. Pick the reading that tells them apart.",
        PracticeForm.HeaterTest => "The total agrees with the nameplates. Is it proved?",
        PracticeForm.PlausibleTotal => "Every channel positive, the total right, power factor 0.866.",
        PracticeForm.LeadOrSupply => "Half-cycle values around the moment when something went.",
        PracticeForm.CornerOrOpen => "Three wires read to ground; one of them shows almost no volts.",
        PracticeForm.OpenNeutral => "Three voltages that read fine prove nothing yet.",
        _ => "A recording with a known fault: exact, modelled or lost?",
    };

    /// <summary>What is to be answered.</summary>
    public static string Question(Exercise exercise)
    {
        ArgumentNullException.ThrowIfNull(exercise);
        return exercise.Key.Form switch
        {
            PracticeForm.Panel => "Where is every lead and clamp, and which way does each clamp face? Take more readings where you need them.",
            PracticeForm.NameTheFault => "Where is every lead and clamp, and which way does each clamp face?",
            PracticeForm.WhatNext => "Two hook-ups fit this screen equally well. Which of these would come out differently under the two?",
            PracticeForm.HeaterTest => "Heaters alone are on, and the total is what their nameplates say. How is it connected?",
            PracticeForm.PlausibleTotal => "The total agrees with the supplier's meter. What is true?",
            PracticeForm.LeadOrSupply => "What happened in the middle of this strip?",
            PracticeForm.CornerOrOpen => "The fourth lead is on ground. Why does one lead show next to nothing?",
            PracticeForm.OpenNeutral => "Is the neutral sound?",
            _ => $"{Recorded(exercise.Recorded!)} What becomes of it?",
        };
    }

    /// <summary>The nominal voltage as on a nameplate: <c>277/480 V</c>, on three wires <c>480 V</c>.</summary>
    public static string Nominal(Exercise exercise)
    {
        ArgumentNullException.ThrowIfNull(exercise);
        return Service.Of(exercise.Service).IsThreeWire || exercise.Service == Core.Circuits.ServiceKind.Single
            ? string.Create(CultureInfo.InvariantCulture, $"{exercise.Nominal.LineToLineVolts:0} V")
            : string.Create(CultureInfo.InvariantCulture, $"{exercise.Nominal.LineToNeutralVolts:0}/{exercise.Nominal.LineToLineVolts:0} V");
    }

    /// <summary>The words of a choice.</summary>
    /// <param name="exercise">The exercise.</param>
    /// <param name="choice">One of its choices.</param>
    public static string Choice(Exercise exercise, string choice)
    {
        ArgumentNullException.ThrowIfNull(exercise);
        if (exercise.Key.Form == PracticeForm.WhatNext && ToldAnswer.TryParse($"{choice}={Sample(choice)}", out var told, out _))
            return ActionWording.Of(told!.Action);
        return choice switch
        {
            "right" => "Everything is right",
            "leads-2-3-clamp-3" => "Leads V2 and V3 are exchanged, and clamp I3 faces the source",
            "leads-1-2-clamp-1" => "Leads V1 and V2 are exchanged, and clamp I1 faces the source",
            "right-leading" => "The hook-up is right, and the load leads: capacitors",
            "turned-forward" => "Each clamp is one conductor on and turned; the load lags",
            "lead-off" => "A voltage lead came off",
            "clamp-off" => "A clamp was opened or taken off",
            "leg-lost" => "A line of the supply was lost, and its load with it",
            "primary-lost" => "A line on the primary side of the transformer was lost",
            "neutral-lost" => "The supply lost its neutral",
            "corner-grounded" => "That corner of the delta is earthed; its lead is where it should be",
            "lead-open" => "That lead makes no contact",
            "lead-on-ground" => "That lead is on ground",
            "sound" => "The neutral is sound, and so is its lead",
            "neutral-lead-open" => "The recorder's neutral lead makes no contact",
            "supply-neutral-open" => "The supply has lost its neutral",
            "exact" => "It comes out exact",
            "exact-if-balanced" => "It comes out exact as far as the voltages are alike",
            "modelled" => "Only as a model, with an uncertainty",
            "lost" => "It is lost",
            _ => choice,
        };
    }

    /// <summary>One of the hook-ups that fit, as a sentence.</summary>
    public static string Candidate(Hookup hookup)
    {
        ArgumentNullException.ThrowIfNull(hookup);
        return hookup.IsRight
            ? "Everything is right."
            : Phrases.Sentence(Phrases.Join(hookup.Clamps.Select(clamp => PlaceWording.Of(clamp.Key, clamp.Value, ConductorNaming.Letters))));
    }

    /// <summary>A figure that is told, as a sentence.</summary>
    public static string Figure(ExerciseFigure figure)
    {
        ArgumentNullException.ThrowIfNull(figure);
        string Kilo() => string.Create(CultureInfo.InvariantCulture, $"{figure.Value / 1000:0.0#} kW");
        return figure.Name switch
        {
            "heater-watts" => $"Heaters by their nameplates: {Kilo()}.",
            "motor-watts" => $"Motor, input by its nameplate: {Kilo()}.",
            "motor-power-factor" => string.Create(CultureInfo.InvariantCulture, $"Power factor of the motor: {figure.Value:0.00}."),
            "supplier-watts" => $"The supplier's meter shows {Kilo()}.",
            _ => string.Create(CultureInfo.InvariantCulture, $"{figure.Name}: {figure.Value} {figure.Unit}."),
        };
    }

    /// <summary>What a recording holds and what was wrong, as sentences.</summary>
    public static string Recorded(RecordedCase recorded)
    {
        ArgumentNullException.ThrowIfNull(recorded);
        var fault = recorded.Fault switch
        {
            "clamp-reversed" => "Clamp I2 faced the source all week",
            "clamps-exchanged" => "Clamps I2 and I3 were exchanged all week",
            "ratio-tenfold" => "Clamp I3 was set to ten times its range all week, and never overloaded",
            "gap" => "The recorder was without supply for forty minutes on Wednesday",
            "clamp-off" => "Clamp I2 was off for a day; the neutral had no clamp",
            "clamp-off-neutral-clamp" => "Clamp I2 was off for a day; a neutral clamp was on",
            "clamp-off-three-wire" => "On three wires with three clamps, clamp I2 was off for a day",
            _ => "Lead V1 was off for a day",
        };
        var stored = recorded.Stored switch
        {
            "waveforms" => "Waveforms of all channels were stored.",
            "watts-and-vars" => "Signed watts and vars of each phase, volts and amperes were stored.",
            "watts" => "Only the watts of each phase were stored.",
            "total-watts" => "Only the total watts were stored.",
            _ => "Only volts and amperes were stored, without angles and power.",
        };
        var wanted = recorded.Wanted switch
        {
            "peak" => "Wanted is the day's peak demand, which may have fallen into that time.",
            "dip" => "Wanted is the depth of a dip that hit line A in that time.",
            _ => "Wanted is the energy of the whole week.",
        };
        return $"{fault}. {stored} {wanted}";
    }

    /// <summary>What there is to learn, said with the mark.</summary>
    public static string Lesson(Exercise exercise)
    {
        ArgumentNullException.ThrowIfNull(exercise);
        return exercise.Key.Form switch
        {
            PracticeForm.WhatNext => "Moving every clamp on by one conductor and turning it shifts every angle by 60 degrees: a load that lags by "
                + "so much more or less reads the same. Volts, rotation and totals are blind to it; what a load on one known conductor does is not.",
            PracticeForm.HeaterTest => "With a lead pair exchanged and one clamp turned, two elements read 1 ± 0.577 tan φ of the true power: "
                + "right at power factor 1, and wrong as soon as a motor runs. A test with heaters proves nothing.",
            PracticeForm.PlausibleTotal => "Each clamp one conductor on and turned reads 1/2 + 0.866 tan φ of the true power: all of it at 30 degrees, "
                + "every channel positive, shown as 0.866 leading. A right total is no proof; which clamp moves when one conductor's load is switched is.",
            PracticeForm.LeadOrSupply => "Voltage went and current did not notice: the lead. Both went: the supply. Current went and voltage is fine: "
                + "clamp or load. Lines that move opposite ways while the voltages between them stand: the neutral.",
            PracticeForm.CornerOrOpen => "With an earthed corner the two others stand at the line-to-line voltage, 60 degrees apart, and the corner is still "
                + "a live line. With a lead off or on ground they stand at the line-to-neutral voltage, 120 degrees apart.",
            PracticeForm.OpenNeutral => "With equal inputs or equal loads the star point floats to where the neutral would be. A load that is switched on one "
                + "line, or a meter of low resistance from the lead, tells.",
            PracticeForm.StillSaved => "Waveforms can be connected anew; signed watts and vars can be turned, exactly where the voltages are alike; "
                + "watts alone can change their sign and nothing else; volts and amperes alone never give energy. What was not there can only be modelled, and a peak or a dip never is.",
            _ => "",
        };
    }

    private static string Sample(string choice) => choice switch
    {
        "rotation" => "abc",
        "motor" => "up",
        _ when choice.StartsWith("switched", StringComparison.Ordinal) => "none",
        _ => "1",
    };
}
