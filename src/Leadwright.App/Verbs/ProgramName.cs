using System.Reflection;

namespace Leadwright.App.Verbs;

/// <summary>The program with its version, as documents bear it.</summary>
internal static class ProgramName
{
    /// <summary>The version without the build's own mark: the same release writes the same bytes.</summary>
    public static string WithVersion()
    {
        var version = typeof(ProgramName).Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()?.InformationalVersion ?? "0";
        var mark = version.IndexOf('+', StringComparison.Ordinal);
        return $"Leadwright {(mark > 0 ? version[..mark] : version)}";
    }
}
