using System.Runtime.CompilerServices;

namespace Leadwright.App.Tests.Verbs;

/// <summary>A folder of its own for one test, removed with it, and the way to the committed data.</summary>
internal sealed class TestFolder : IDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("leadwright-test-");

    public static string Data(string name, [CallerFilePath] string caller = "") =>
        Path.GetFullPath(Path.Combine(Path.GetDirectoryName(caller)!, "../../data", name));

    public string Write(string name, string text)
    {
        var path = Path.Combine(_folder.FullName, name);
        File.WriteAllText(path, text);
        return path;
    }

    public string Copy(string name, string newName)
    {
        var path = Path.Combine(_folder.FullName, newName);
        File.Copy(Data(name), path);
        return path;
    }

    public void Dispose() => _folder.Delete(recursive: true);
}
