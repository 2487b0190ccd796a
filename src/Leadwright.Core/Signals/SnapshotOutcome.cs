namespace Leadwright.Core.Signals;

/// <summary>A snapshot, or why there is none.</summary>
/// <param name="Snapshot">The snapshot; null when it was refused.</param>
/// <param name="Refusal">Why it was refused; <see cref="SnapshotRefusal.None"/> when it was not.</param>
public sealed record SnapshotOutcome(Snapshot? Snapshot, SnapshotRefusal Refusal);
