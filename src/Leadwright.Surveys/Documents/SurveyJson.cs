using System.Text.Json.Serialization;

namespace Leadwright.Surveys.Documents;

/// <summary>The document as JSON.</summary>
[JsonSourceGenerationOptions(
    PropertyNamingPolicy = JsonKnownNamingPolicy.SnakeCaseLower,
    DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
    GenerationMode = JsonSourceGenerationMode.Metadata)]
[JsonSerializable(typeof(SurveyDocument))]
[JsonSerializable(typeof(SurveyHeading))]
internal sealed partial class SurveyJson : JsonSerializerContext;
