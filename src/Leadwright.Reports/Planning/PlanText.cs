using System.Globalization;
using Leadwright.Core.Hookups;
using Leadwright.Core.Planning;
using Leadwright.Reports.Hookups;

namespace Leadwright.Reports.Planning;

/// <summary>Writes a plan for people.</summary>
public static class PlanText
{
    /// <summary>The plan as text of at most <see cref="CheckText.Width"/> columns.</summary>
    /// <param name="sheet">The plan.</param>
    /// <param name="naming">How the site's conductors are called.</param>
    /// <param name="site">The site's name; empty for none.</param>
    public static string Of(PlanSheet sheet, ConductorNaming naming, string site = "")
    {
        ArgumentNullException.ThrowIfNull(sheet);
        var text = new TextBlock(CheckText.Width);
        var plan = sheet.Plan;
        text.Line($"PLAN{(site.Length > 0 ? $"  {site}" : "")}");
        text.Add("  ", string.Create(CultureInfo.InvariantCulture, $"{Phrases.Capital(CheckWords.InSentence(plan.Service))}, {ServiceWording.Nominal(plan.Service, plan.Nominal)} V, {plan.FrequencyHertz:0.##} Hz."));
        text.Add("  ", string.Create(CultureInfo.InvariantCulture, $"Interval {PlanWording.Seconds(sheet.IntervalSeconds)}, {sheet.Days:0.##} days."));
        foreach (var need in sheet.Needs) text.Add("  - ", $"{PlanWording.Name(need.Purpose)}: {PlanWording.Why(need.Purpose)}.");
        if (!sheet.Warnings.IsEmpty)
        {
            text.Line();
            text.Line("WHAT DOES NOT FIT");
            foreach (var warning in sheet.Warnings) text.Add("  ! ", PlanWording.Warning(warning, sheet));
        }

        text.Line();
        text.Line("CONNECT");
        foreach (var line in ConnectionDrawing.TextTwin(sheet, naming)) text.Add("  ", line);
        text.Line();
        text.Line("EXPECT, WITH EVERYTHING RIGHT");
        foreach (var reading in sheet.Readings) text.Line($"  {reading.Channel,-4}{PlanWording.Size(reading),20}   {PlanWording.AngleOf(reading)}");
        foreach (var power in sheet.Powers)
        {
            var watts = power.Watts is { } value ? Phrases.Size(value / 1000, "kW") : "";
            text.Line($"  P{power.Phase,-3}{watts,20}   power factor {PlanWording.PowerFactor(power)}");
        }

        text.Add("  ", "Angles: positive leads, from the first voltage, for a supply that turns A, B, C. Angles and power factors as on eight of ten sites of this kind.");
        if (Service.Of(plan.Service).Kind == Core.Circuits.ServiceKind.DeltaTwoClamp)
            text.Add("  ", "The power factors of single elements mean nothing by themselves; look at the total.");
        if (plan.MayExport) text.Add("  ", "Generation may turn every power round.");
        Recorder(sheet, text);
        text.Line();
        text.Line("IN THE BAG");
        foreach (var line in PlanWording.Bag) text.Add("  [ ] ", line);
        text.Line();
        text.Line("AT THE PANEL");
        foreach (var line in PlanWording.Panel) text.Add("  [ ] ", line);
        text.Line();
        text.Line("CAUTIONS");
        foreach (var line in Cautions.Full) text.Add("  - ", line);
        return text.ToString();
    }

    private static void Recorder(PlanSheet sheet, TextBlock text)
    {
        text.Line();
        text.Line("CLAMPS AND RECORDER");
        if (sheet.SuitableRangeAmperes is { } range && sheet.PeakAmperes is { } peak)
            text.Add("  ", string.Create(CultureInfo.InvariantCulture, $"A range of {range:0} A suits: the peak of a line may reach {Phrases.ThreeDigits(peak)} A."));
        else
            text.Add("  ", "State the expected load (--kw or --amps) to choose the clamps' range.");
        if (PlanWording.Clamp(sheet) is { Length: > 0 } clamp) text.Add("  ", clamp);
        if (PlanWording.Memory(sheet) is { Length: > 0 } memory) text.Add("  ", memory);
        if (sheet.Plan.Recorder is { BatteryHours: { } hours } recorder)
            text.Add("  ", string.Create(CultureInfo.InvariantCulture, $"Battery: {hours:0.#} hours; without supply for at most {recorder.OutageHours:0.#} hours."));
    }
}
