using System.Globalization;
using Leadwright.Core.Circuits;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Practice;

/// <summary>What an exercise is made from: the same key makes the same exercise on every machine.</summary>
/// <param name="Form">The form of exercise.</param>
/// <param name="Service">The service, where the form lets it be chosen; null to leave it to the seed.</param>
/// <param name="Load">The kind of site, where the form lets it be chosen; null to leave it to the seed.</param>
/// <param name="Level">1 easy, 2 ordinary, 3 hard.</param>
/// <param name="Seed">Everything that is drawn depends on it.</param>
public sealed record ExerciseKey(PracticeForm Form, ServiceKind? Service, LoadFamily? Load, int Level, ulong Seed)
{
    /// <summary>The easiest level.</summary>
    public const int LowestLevel = 1;

    /// <summary>The hardest level.</summary>
    public const int HighestLevel = 3;

    private const string Open = "any";

    /// <summary>True for the forms whose service and kind of site may be chosen.</summary>
    public bool TakesSite => Form is PracticeForm.Panel or PracticeForm.NameTheFault;

    /// <summary>The word of a form in files and commands, such as <c>name-the-fault</c>.</summary>
    public static string WordOf(PracticeForm form) => form switch
    {
        PracticeForm.Panel => "panel",
        PracticeForm.NameTheFault => "name-the-fault",
        PracticeForm.WhatNext => "what-next",
        PracticeForm.HeaterTest => "heater-test",
        PracticeForm.PlausibleTotal => "plausible-total",
        PracticeForm.LeadOrSupply => "lead-or-supply",
        PracticeForm.CornerOrOpen => "corner-or-open",
        PracticeForm.OpenNeutral => "open-neutral",
        PracticeForm.StillSaved => "still-saved",
        _ => throw new ArgumentOutOfRangeException(nameof(form), form, "Not a form of exercise."),
    };

    /// <summary>The form with a word, in any case; null when there is none.</summary>
    public static PracticeForm? FormOf(string? word)
    {
        foreach (var form in Enum.GetValues<PracticeForm>())
        {
            if (string.Equals(WordOf(form), word?.Trim(), StringComparison.OrdinalIgnoreCase)) return form;
        }

        return null;
    }

    /// <summary>Reads what <see cref="ToString"/> writes.</summary>
    /// <param name="text">The text.</param>
    /// <param name="key">Receives the key; null when the text is none.</param>
    /// <returns>False when the text is no key.</returns>
    public static bool TryParse(string? text, out ExerciseKey? key)
    {
        key = null;
        var parts = (text ?? "").Split('/');
        if (parts.Length != 5 || FormOf(parts[0]) is not { } form) return false;
        var service = Hookups.Service.Named(parts[1]);
        if (service is null && parts[1] != Open) return false;
        LoadFamily? load = Enum.TryParse<LoadFamily>(parts[2], true, out var family) && Enum.IsDefined(family) ? family : null;
        if (load is null && parts[2] != Open) return false;
        if (!int.TryParse(parts[3], NumberStyles.None, CultureInfo.InvariantCulture, out var level) || level is < LowestLevel or > HighestLevel) return false;
        if (!ulong.TryParse(parts[4], NumberStyles.None, CultureInfo.InvariantCulture, out var seed)) return false;
        key = new ExerciseKey(form, service?.Kind, load, level, seed);
        return true;
    }

    /// <summary>The key as text: <c>panel/wye/motors/2/1234</c>; <c>any</c> stands for what the seed chooses.</summary>
    public override string ToString() => string.Create(
        CultureInfo.InvariantCulture,
        $"{WordOf(Form)}/{(Service is { } kind ? Hookups.Service.Of(kind).Name : Open)}/{(Load is { } load ? load.ToString().ToLowerInvariant() : Open)}/{Level}/{Seed}");
}
