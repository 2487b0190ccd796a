using System.Text.Json;
using System.Text.Json.Serialization;

namespace Leadwright.App.Verbs.Surveying;

/// <summary>Documents kept in a survey, as bytes again.</summary>
[JsonSerializable(typeof(JsonElement))]
internal sealed partial class ColumnsJson : JsonSerializerContext;
