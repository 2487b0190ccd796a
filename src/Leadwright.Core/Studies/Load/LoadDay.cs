using System.Collections.Immutable;

namespace Leadwright.Core.Studies.Load;

/// <summary>The hours of a day.</summary>
/// <param name="Date">The day.</param>
/// <param name="Watts">Mean power of each hour, 24 values, W; NaN where not known.</param>
public sealed record LoadDay(DateOnly Date, ImmutableArray<double> Watts);
