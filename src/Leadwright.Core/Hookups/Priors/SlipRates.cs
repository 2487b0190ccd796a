namespace Leadwright.Core.Hookups.Priors;

/// <summary>How often each slip of the hand happens, before anything is read.</summary>
/// <remarks>
/// <para>Common practice, no source: the trade's own accounts put the share of wrong hook-ups from one in twenty
/// (permanent meters) to one in three (temporary recorders connected in haste). The values err toward "slips happen", so
/// that readings which say nothing leave the verdict open. What they do to the verdict is measured in
/// docs/methods/hook-up-accuracy.md.</para>
/// <para>A "muddle" is the hook-up of a person who lost track: any arrangement is then as likely as any other. It keeps the
/// probability of a many-slip arrangement from vanishing, and with it the confidence honest where one such arrangement
/// reads like a plausible load.</para>
/// </remarks>
public sealed record SlipRates
{
    /// <summary>One clamp's arrow points away from the load.</summary>
    public double ClampReversed { get; init; } = 0.035;

    /// <summary>All clamps reversed together: the arrow was misread once and for all.</summary>
    public double AllClampsReversed { get; init; } = 0.025;

    /// <summary>The same where generation may send power back, so that the sign of power gave the person no hint.</summary>
    public double AllClampsReversedWithGeneration { get; init; } = 0.055;

    /// <summary>One pair of clamps exchanged.</summary>
    public double ClampPairExchanged { get; init; } = 0.012;

    /// <summary>Three clamps moved round by one conductor, one direction.</summary>
    public double ClampsRotated { get; init; } = 0.009;

    /// <summary>A clamp around nothing, or not closed, or not plugged in.</summary>
    public double ClampOpen { get; init; } = 0.01;

    /// <summary>A clamp on a line where another clamp sits already, or on a line of another clamp left free.</summary>
    public double ClampMisplaced { get; init; } = 0.005;

    /// <summary>A line clamp on the neutral, or the neutral clamp on a line.</summary>
    public double ClampOnNeutral { get; init; } = 0.005;

    /// <summary>All line clamps on one conductor, each conductor: left so after comparing them with one another.</summary>
    public double AllClampsOnOneConductor { get; init; } = 0.0015;

    /// <summary>A clamp's range or ratio off by a factor of ten, each way.</summary>
    public double RatioOffByTen { get; init; } = 0.003;

    /// <summary>A clamp's range or ratio off by a factor of five, each way.</summary>
    public double RatioOffByFive { get; init; } = 0.001;

    /// <summary>A clamp's reading off by a factor of two, each way: half of two parallel conductors, or the ratio of a sister set.</summary>
    public double RatioOffByTwo { get; init; } = 0.0015;

    /// <summary>Clamps: any order and any direction.</summary>
    public double ClampMuddle { get; init; } = 0.15;

    /// <summary>Clamps: anywhere at all.</summary>
    public double ClampChaos { get; init; } = 0.002;

    /// <summary>A line lead in the air.</summary>
    public double LeadOpen { get; init; } = 0.008;

    /// <summary>The neutral lead in the air.</summary>
    public double NeutralLeadOpen { get; init; } = 0.006;

    /// <summary>One pair of line leads exchanged.</summary>
    public double LeadPairExchanged { get; init; } = 0.010;

    /// <summary>Three line leads moved round by one conductor, one direction.</summary>
    public double LeadsRotated { get; init; } = 0.006;

    /// <summary>The neutral lead exchanged with one line lead.</summary>
    public double NeutralLeadExchanged { get; init; } = 0.003;

    /// <summary>A lead on a conductor where another lead sits already.</summary>
    public double LeadMisplaced { get; init; } = 0.003;

    /// <summary>Leads: any order.</summary>
    public double LeadMuddle { get; init; } = 0.005;

    /// <summary>Leads: anywhere at all.</summary>
    public double LeadChaos { get; init; } = 0.001;

    /// <summary>Nothing is connected at all: every lead and every clamp in the air. Leads and clamps are forgotten together more often than their own rates have it.</summary>
    public double NothingConnected { get; init; } = 0.0015;

    /// <summary>The supply turns A-C-B as the conductors are named.</summary>
    public double SupplyTurnsAcb { get; init; } = 0.04;

    /// <summary>The second leg of a network service leads the first, as A and C of the wye behind it do.</summary>
    public double NetworkLegsInReverse { get; init; } = 0.35;

    /// <summary>The high leg is on A.</summary>
    public double HighLegOnA { get; init; } = 0.03;

    /// <summary>The high leg is on C, as some metering rules want it.</summary>
    public double HighLegOnC { get; init; } = 0.12;

    /// <summary>One corner of three wires is earthed, where each line was read to a common point, which then is ground; else that point
    /// is the star of the inputs.</summary>
    public double ReadToEarthedCorner { get; init; } = 0.6;

    /// <summary>The sign of angles is the other one, when it was not stated.</summary>
    public double AngleSignNotAsTaken { get; init; } = 0.05;

    /// <summary>The sign of angles is the other one although it was stated.</summary>
    public double AngleSignNotAsStated { get; init; } = 0.002;

    /// <summary>Current angles are from each phase's own voltage, when that was not stated.</summary>
    public double CurrentReferenceNotAsTaken { get; init; } = 0.004;

    /// <summary>Current angles are from the other reference although it was stated.</summary>
    public double CurrentReferenceNotAsStated { get; init; } = 0.001;

    /// <summary>The sign of power is the other one, when it was not stated.</summary>
    public double PowerSignNotAsTaken { get; init; } = 0.02;

    /// <summary>The sign of power is the other one although it was stated.</summary>
    public double PowerSignNotAsStated { get; init; } = 0.002;
}
