namespace Leadwright.Formats.Matching;

/// <summary>What a match rests on, surest first.</summary>
public enum MatchBasis
{
    /// <summary>A person said so.</summary>
    Told,

    /// <summary>The name and the phase field or unit agree.</summary>
    NameAndField,

    /// <summary>The name alone.</summary>
    Name,

    /// <summary>The phase field and the unit; the name says nothing.</summary>
    PhaseAndUnit,
}
