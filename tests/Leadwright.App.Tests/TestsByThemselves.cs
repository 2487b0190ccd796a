namespace Leadwright.App.Tests;

/// <summary>Tests that hear or change what the whole process does: none runs beside them.</summary>
[CollectionDefinition(nameof(TestsByThemselves), DisableParallelization = true)]
public sealed class TestsByThemselves;
