using System.Text.Json.Serialization;

namespace Leadwright.Surveys.Storage;

/// <summary>The name of who writes, as JSON.</summary>
[JsonSerializable(typeof(string))]
internal sealed partial class HolderJson : JsonSerializerContext;
