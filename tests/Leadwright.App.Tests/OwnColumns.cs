using System.Runtime.CompilerServices;
using Leadwright.App.Verbs;

namespace Leadwright.App.Tests;

/// <summary>The tests remember columns in a folder of their own, and not in that of the person who runs them.</summary>
internal static class OwnColumns
{
    [ModuleInitializer]
    internal static void Name()
    {
        var folder = Directory.CreateTempSubdirectory("leadwright-columns-");
        Environment.SetEnvironmentVariable(KnownColumns.Variable, folder.FullName);
        AppDomain.CurrentDomain.ProcessExit += (_, _) => folder.Delete(recursive: true);
    }
}
