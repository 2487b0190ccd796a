using System.Collections.Immutable;

namespace Leadwright.Client.Model;

/// <summary>The fields of one channel or phase, under its plate.</summary>
/// <param name="Plate">What the plate says, such as <c>V1</c>.</param>
/// <param name="Says">The same in words, such as <c>Lead V1 to neutral</c>.</param>
/// <param name="Fields">The fields.</param>
public sealed record ReadingRow(string Plate, string Says, ImmutableArray<ReadingField> Fields);
