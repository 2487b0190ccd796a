namespace Leadwright.Fuzzing;

/// <summary>A folder for a target that works on files.</summary>
internal static class FuzzPlace
{
    // Linux keeps it in memory: that a disk is slow to flush is no part of what is read.
    private const string InMemory = "/dev/shm";

    /// <summary>Makes one.</summary>
    public static string Make() => Directory.Exists(InMemory)
        ? Directory.CreateDirectory(Path.Combine(InMemory, $"leadwright-fuzz-{Guid.NewGuid():N}")).FullName : Directory.CreateTempSubdirectory("leadwright-fuzz-").FullName;
}
