namespace Leadwright.Core.Practice;

/// <summary>The forms of exercise; their names in files are the same words in lower case with hyphens.</summary>
public enum PracticeForm
{
    /// <summary>A panel with hidden faults: read, measure, switch loads, then say where every lead and clamp is.</summary>
    Panel,

    /// <summary>Name the fault from the readings of one screen, with nothing else to measure.</summary>
    NameTheFault,

    /// <summary>One screen, two answers that both fit: what would decide between them?</summary>
    WhatNext,

    /// <summary>A test with heaters passes; then a motor starts.</summary>
    HeaterTest,

    /// <summary>A plausible total at a power factor of 0.866: right, or each clamp one phase on and turned?</summary>
    PlausibleTotal,

    /// <summary>Half-cycle values around a moment: did a lead come off, or was something really lost?</summary>
    LeadOrSupply,

    /// <summary>Three wires read to ground: an earthed corner, or a lead that makes no contact?</summary>
    CornerOrOpen,

    /// <summary>Three voltages that read fine: is the neutral there?</summary>
    OpenNeutral,

    /// <summary>A recording with a known fault: what of it can still be saved?</summary>
    StillSaved,
}
