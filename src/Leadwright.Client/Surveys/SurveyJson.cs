using System.Collections.Immutable;
using System.Text.Json.Serialization;

namespace Leadwright.Client.Surveys;

/// <summary>How the screens and the host write to each other: the same names as the verbs' JSON.</summary>
[JsonSourceGenerationOptions(PropertyNamingPolicy = JsonKnownNamingPolicy.SnakeCaseLower, PropertyNameCaseInsensitive = false, Converters = [typeof(RecordTimeJson)])]
[JsonSerializable(typeof(ImmutableArray<SurveyCard>))]
[JsonSerializable(typeof(SurveySheet))]
[JsonSerializable(typeof(NewSurvey))]
[JsonSerializable(typeof(WorkState))]
[JsonSerializable(typeof(ProblemSheet))]
[JsonSerializable(typeof(ImmutableArray<JournalRow>))]
[JsonSerializable(typeof(ImmutableArray<ColumnCard>))]
[JsonSerializable(typeof(ColumnMatchSheet))]
[JsonSerializable(typeof(ColumnMatchKeep))]
[JsonSerializable(typeof(SessionCard))]
[JsonSerializable(typeof(GuardSheet))]
[JsonSerializable(typeof(MendAnswer))]
[JsonSerializable(typeof(LayerSwitch))]
[JsonSerializable(typeof(StudyAnswer))]
[JsonSerializable(typeof(VectorSheet))]
[JsonSerializable(typeof(MomentSheet))]
[JsonSerializable(typeof(FollowSheet))]
[JsonSerializable(typeof(FollowStart))]
[JsonSerializable(typeof(ReportSheet))]
[JsonSerializable(typeof(ReportMade))]
[JsonSerializable(typeof(WordsChange))]
[JsonSerializable(typeof(DepartingSheet))]
[JsonSerializable(typeof(DepartingSign))]
[JsonSerializable(typeof(HookupsSheet))]
[JsonSerializable(typeof(HookupKeep))]
[JsonSerializable(typeof(PlanKeep))]
public sealed partial class SurveyJson : JsonSerializerContext;
