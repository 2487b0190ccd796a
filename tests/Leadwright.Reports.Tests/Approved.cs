using System.Runtime.CompilerServices;

namespace Leadwright.Reports.Tests;

/// <summary>Compares a text with the one that a person has read and approved.</summary>
/// <remarks>Set LEADWRIGHT_APPROVE=1 to take the present texts, then read the difference before committing it.</remarks>
internal static class Approved
{
    public static void Matches(string name, string text, [CallerFilePath] string caller = "")
    {
        var folder = Path.Combine(Path.GetDirectoryName(caller)!, caller.Contains("Hookups", StringComparison.Ordinal) ? "../Approved" : "Approved");
        var path = Path.GetFullPath(Path.Combine(folder, name));
        if (Environment.GetEnvironmentVariable("LEADWRIGHT_APPROVE") == "1") File.WriteAllText(path, text);
        Assert.True(File.Exists(path), $"No approved text '{name}'. Run once with LEADWRIGHT_APPROVE=1, then read it.");
        Assert.Equal(File.ReadAllText(path).ReplaceLineEndings("\n"), text);
    }
}
