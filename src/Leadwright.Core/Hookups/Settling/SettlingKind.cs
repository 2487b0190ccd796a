namespace Leadwright.Core.Hookups.Settling;

/// <summary>The kinds of thing that a person can do at a panel, or look up, to settle what the readings leave open.</summary>
public enum SettlingKind
{
    /// <summary>Look at a rotation indicator on conductors A, B and C. Answers: <c>abc</c>, <c>acb</c>.</summary>
    Rotation,

    /// <summary>Look at the arrow of a clamp. Answers: <c>load</c>, <c>source</c>.</summary>
    Arrow,

    /// <summary>Follow the conductor in the jaws of a clamp to its label. Answers: a conductor, <c>none</c>.</summary>
    Clamp,

    /// <summary>Follow a lead to its clip and the label there. Answers: a conductor, <c>none</c>.</summary>
    Lead,

    /// <summary>See whether a lead makes contact. Answers: <c>yes</c>, <c>no</c>.</summary>
    Contact,

    /// <summary>Measure between a lead and a conductor, or between two leads, with a meter of low input resistance. Answer: volts.</summary>
    Meter,

    /// <summary>Read a conductor with a hand clamp. Answers: amperes, <c>other</c> for none of those offered.</summary>
    HandClamp,

    /// <summary>Switch on a known single-phase load and watch the power of each phase. Answers: the clamps whose power moves, each
    /// with <c>up</c> or <c>down</c>; <c>none</c>.</summary>
    Switched,

    /// <summary>Start a three-phase motor and watch the power of each phase. Answers: <c>up</c>, <c>down</c>, <c>mixed</c>.</summary>
    Motor,

    /// <summary>Ask whether the site sends power back now. Answers: <c>yes</c>, <c>no</c>.</summary>
    Export,

    /// <summary>Look up how the instrument shows power that flows to the load. Answers: <c>load-positive</c>, <c>load-negative</c>.</summary>
    Watts,

    /// <summary>Look up how the instrument counts angles. Answers: <c>lead-positive</c>, <c>lag-positive</c>.</summary>
    Angles,

    /// <summary>Read everything again, at one time and under more load. Its answer is the new reading.</summary>
    ReadAgain,
}
