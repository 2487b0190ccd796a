using System.Collections.Immutable;

namespace Leadwright.Core.Integrity;

/// <summary>What the loads of the lines usually draw of the volt-amperes that their clamps show, learned from a total power by what each hook-up makes of it (docs/methods/guard.md, "Totals alone").</summary>
/// <param name="ByLine">Watts per volt-ampere of the element that measures the line when all is right, by line A, B, C; NaN for a line without a clamp.</param>
/// <param name="Uncertainty">Standard uncertainty of the energy that they make of the recording, as a share of it.</param>
public sealed record LineFactors(ImmutableArray<double> ByLine, double Uncertainty);
