namespace Leadwright.Core.Studies.Load;

/// <summary>Whether a condition is met.</summary>
public enum ConditionState
{
    /// <summary>Shown by the data or stated by the user.</summary>
    Met,

    /// <summary>Not met.</summary>
    NotMet,

    /// <summary>Neither shown by the data nor stated.</summary>
    NotShown,
}

/// <summary>A condition under which a method may be used.</summary>
/// <param name="Says">The condition in words.</param>
/// <param name="State">Whether it is met.</param>
/// <param name="Found">What the data or the user says of it.</param>
public readonly record struct CapacityCondition(string Says, ConditionState State, string Found);
