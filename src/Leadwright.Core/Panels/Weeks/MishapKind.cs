namespace Leadwright.Core.Panels.Weeks;

/// <summary>What goes wrong, or goes dead, in a virtual week.</summary>
public enum MishapKind
{
    /// <summary>A line lead falls off.</summary>
    LeadOff,

    /// <summary>A line lead is put on another line, where another lead sits.</summary>
    LeadMoved,

    /// <summary>A line lead is put on the neutral.</summary>
    LeadOnNeutral,

    /// <summary>Two line leads change places.</summary>
    LeadsExchanged,

    /// <summary>The neutral lead falls off.</summary>
    NeutralLeadOff,

    /// <summary>The neutral lead and a line lead change places.</summary>
    NeutralExchanged,

    /// <summary>A clamp is turned round.</summary>
    ClampReversed,

    /// <summary>A clamp is put round another line, where another clamp sits.</summary>
    ClampMoved,

    /// <summary>A line clamp is put round the neutral.</summary>
    ClampOnNeutral,

    /// <summary>Two clamps change places.</summary>
    ClampsExchanged,

    /// <summary>Three clamps go round by one line.</summary>
    ClampsRotated,

    /// <summary>A clamp comes off.</summary>
    ClampOff,

    /// <summary>A clamp's jaw opens slowly.</summary>
    ClampOpening,

    /// <summary>A clamp's ratio or range is set wrong.</summary>
    RatioWrong,

    /// <summary>The current exceeds the range of the clamps.</summary>
    OverRange,

    /// <summary>A channel repeats one value.</summary>
    Stuck,

    /// <summary>The recorder is off.</summary>
    RecorderOff,

    /// <summary>The recorder's clock is set forward, to summer time or to the right time.</summary>
    ClockForward,

    /// <summary>The supply is gone, and the recorder runs on.</summary>
    Outage,

    /// <summary>The supply is gone, and the recorder goes with it.</summary>
    OutageWithRecorder,

    /// <summary>One line of the supply is gone on the low-voltage side.</summary>
    LineLost,

    /// <summary>One phase is gone on the high-voltage side of the transformer.</summary>
    UpstreamPhaseLost,

    /// <summary>The supply's neutral is broken.</summary>
    SupplyNeutralLost,

    /// <summary>The voltages dip for less than a second.</summary>
    Dip,
}
