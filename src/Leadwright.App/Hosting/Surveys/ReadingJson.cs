using System.Text.Json.Serialization;

namespace Leadwright.App.Hosting.Surveys;

/// <summary>Texts as JSON.</summary>
[JsonSerializable(typeof(string[]))]
internal sealed partial class ReadingJson : JsonSerializerContext;
