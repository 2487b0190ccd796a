using System.Text.Json.Serialization;

namespace Leadwright.Surveys.Journal;

/// <summary>The payloads as JSON: names in small letters with low lines, nothing written that is not there.</summary>
[JsonSourceGenerationOptions(
    PropertyNamingPolicy = JsonKnownNamingPolicy.SnakeCaseLower,
    DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
    RespectNullableAnnotations = true,
    RespectRequiredConstructorParameters = true,
    GenerationMode = JsonSourceGenerationMode.Metadata)]
[JsonSerializable(typeof(SurveyCreated))]
[JsonSerializable(typeof(SiteChanged))]
[JsonSerializable(typeof(PlanChanged))]
[JsonSerializable(typeof(RecordingImported))]
[JsonSerializable(typeof(ColumnsConfirmed))]
[JsonSerializable(typeof(RecordingRemoved))]
[JsonSerializable(typeof(GuardKept))]
[JsonSerializable(typeof(HookupProved))]
[JsonSerializable(typeof(AnswersTold))]
[JsonSerializable(typeof(DepartureSigned))]
[JsonSerializable(typeof(CorrectionAccepted))]
[JsonSerializable(typeof(CorrectionSwitched))]
[JsonSerializable(typeof(ReportWordsChanged))]
[JsonSerializable(typeof(PhotoAttached))]
[JsonSerializable(typeof(ArchivedChanged))]
[JsonSerializable(typeof(SurveyDuplicated))]
[JsonSerializable(typeof(SurveyUpgraded))]
internal sealed partial class JournalJson : JsonSerializerContext;
