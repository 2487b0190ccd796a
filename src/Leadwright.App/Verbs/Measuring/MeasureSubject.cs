using System.Collections.Immutable;
using Leadwright.Core.Measuring;
using Leadwright.Formats.Sampling;

namespace Leadwright.App.Verbs.Measuring;

/// <summary>A recording that is ready to be measured.</summary>
/// <param name="Path">The file as it was named.</param>
/// <param name="Source">Its samples, lanes chosen; to be disposed.</param>
/// <param name="Plan">What is measured.</param>
/// <param name="Names">Name of the channel in each lane; empty for none.</param>
/// <param name="Derived">Lanes that are worked out from others: each is minus the sum of two.</param>
/// <param name="ServiceName">The service in words.</param>
/// <param name="Nominal">The nominal voltage as on the nameplate; null when not known.</param>
/// <param name="Notes">What a person must know.</param>
public sealed record MeasureSubject(
    string Path, SampleSource Source, MeasuringPlan Plan, ImmutableArray<string> Names, ImmutableArray<DerivedLane> Derived,
    string ServiceName, string? Nominal, ImmutableArray<string> Notes);

/// <summary>A lane that is minus the sum of two others, as Kirchhoff's laws have it on three wires.</summary>
/// <param name="Target">The lane.</param>
/// <param name="First">One of the two.</param>
/// <param name="Second">The other.</param>
public readonly record struct DerivedLane(int Target, int First, int Second);
