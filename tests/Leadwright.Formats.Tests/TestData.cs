using System.Runtime.CompilerServices;
using System.Text;
using System.Text.Json;

namespace Leadwright.Formats.Tests;

/// <summary>The data files of the tests; a missing one fails the test that asks for it.</summary>
internal static class TestData
{
    public static string Folder { get; } = FolderBeside();

    public static InputFile File(string path) => new(Path.GetFileName(path), System.IO.File.ReadAllBytes(Path.Combine(Folder, path)));

    public static JsonElement Json(string path) => JsonDocument.Parse(System.IO.File.ReadAllBytes(Path.Combine(Folder, path))).RootElement;

    public static InputFile Text(string name, string text) => new(name, Encoding.UTF8.GetBytes(text));

    public static InputFile Latin1(string name, string text) => new(name, Encoding.Latin1.GetBytes(text));

    private static string FolderBeside([CallerFilePath] string path = "") =>
        Path.GetFullPath(Path.Combine(Path.GetDirectoryName(path)!, "..", "data"));
}
