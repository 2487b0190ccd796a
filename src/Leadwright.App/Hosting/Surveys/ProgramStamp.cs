using System.Reflection;
using Leadwright.Core.Logs;
using Leadwright.Formats.Logs;
using Leadwright.Reports.Guarding;

namespace Leadwright.App.Hosting.Surveys;

/// <summary>Which program worked something out: results of another build are not taken for this one's.</summary>
internal static class ProgramStamp
{
    /// <summary>The version that people see.</summary>
    public static string Version { get; } = typeof(ProgramStamp).Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()?.InformationalVersion ?? "";

    /// <summary>The builds of the computing, the readers, the words and the program.</summary>
    public static string Text { get; } = string.Join(
        ' ', new[] { typeof(IntervalLog), typeof(LogReader), typeof(GuardJson), typeof(ProgramStamp) }.Select(type => type.Assembly.ManifestModule.ModuleVersionId.ToString("N")));
}
