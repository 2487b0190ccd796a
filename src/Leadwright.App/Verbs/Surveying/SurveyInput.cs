using System.Collections.Immutable;
using System.Text.Json;
using Leadwright.Formats;
using Leadwright.Formats.Matching;
using Leadwright.Surveys;
using Leadwright.Surveys.Importing;
using Leadwright.Surveys.Journal;

namespace Leadwright.App.Verbs.Surveying;

/// <summary>One input of a verb: a file as named, or a recording of a survey with what the survey says of its panel.</summary>
/// <param name="Path">The file.</param>
/// <param name="State">The survey it belongs to; null for a file as named.</param>
internal sealed record SurveyInput(string Path, SurveyState? State)
{
    /// <summary>The survey's folder; null for a file as named.</summary>
    public string? Folder { get; private init; }

    /// <summary>What names it to the verb <c>columns</c>.</summary>
    public string NameForColumns => Folder is null ? Path : $"{Folder} --recording {Recording}";

    /// <summary>Name of the recording in the survey; null for a file as named.</summary>
    public string? Recording { get; private init; }

    private ImmutableArray<ColumnProfile> Profiles { get; init; } = [];

    private RecordingReading? Reading { get; init; }

    /// <summary>The inputs that paths stand for: files as they are, survey folders by their recordings.</summary>
    /// <param name="paths">Files and survey folders.</param>
    /// <param name="recording">Name of the recording that is wanted of a survey; null for all.</param>
    /// <param name="refuse">Is told of each path that can't be used; the others go on.</param>
    /// <param name="kinds">Kinds of recordings that the verb takes: <c>log</c>, <c>samples</c>, <c>readings</c>.</param>
    public static IReadOnlyList<SurveyInput> Of(IEnumerable<string> paths, string? recording, Action<InputRefusedException> refuse, params string[] kinds)
    {
        var inputs = new List<SurveyInput>();
        foreach (var path in paths)
        {
            try
            {
                if (SurveyFolder.IsSurvey(path)) inputs.AddRange(OfSurvey(path, recording, kinds));
                else if (recording is not null)
                    throw new InputRefusedException(ExitCode.WrongUsage, $"--recording: '{path}' is not a survey's folder. It names a recording of a survey.");
                else inputs.Add(new SurveyInput(path, null));
            }
            catch (InputRefusedException refusal)
            {
                refuse(refusal);
            }
        }

        return inputs;
    }

    /// <summary>The recordings of a survey among inputs, as the end of a sentence that asks for one of them; empty where there are none.</summary>
    /// <param name="inputs">The inputs.</param>
    public static string NamesOf(IEnumerable<SurveyInput> inputs) =>
        string.Join(", ", inputs.Where(input => input.Recording is not null).Select(input => $"'{input.Recording}'")) is { Length: > 0 } names ? $" There are {names}." : "";

    /// <summary>A request with what the survey says where the command line says nothing.</summary>
    /// <typeparam name="T">The verb's request.</typeparam>
    /// <param name="request">What the command line says.</param>
    public T Complete<T>(T request)
        where T : RecordingRequest
    {
        if (State is null) return request;
        var panel = State.Panel;
        return (T)(request.With(Reading) with
        {
            Service = request.Service ?? panel.KnownService(),
            Nominal = request.Nominal ?? panel.Nominal,
            FrequencyHertz = request.FrequencyHertz ?? panel.FrequencyHertz,
            Profiles = [.. request.Profiles, .. Profiles],
        });
    }

    /// <summary>Writes an answer into the survey's journal.</summary>
    /// <param name="answer">Makes the entry of the recording's name and the answer's document.</param>
    /// <param name="json">The answer as a line of JSON.</param>
    /// <param name="clock">The clock of the entry.</param>
    /// <exception cref="InputRefusedException">The input is no survey, or can't be written to.</exception>
    public void Keep(Func<string, JsonElement, JournalPayload> answer, string json, TimeProvider clock)
    {
        if (Folder is null) throw new InputRefusedException(ExitCode.WrongUsage, $"--keep: '{Path}' is not a recording of a survey. Name the survey's folder.");
        _ = SurveyRun.Refusing(() =>
        {
            using var document = JsonDocument.Parse(json);
            using var survey = SurveyFolder.Open(Folder, SurveyAccess.Write, new SurveyAuthor(Environment.UserName, clock));
            return survey.Append(answer(Recording!, document.RootElement.Clone()));
        });
    }

    /// <summary>Writes what was worked out as a table of the survey, for charts and queries.</summary>
    /// <param name="write">Writes it: the survey's folder, its name among all, the number of the recording.</param>
    /// <exception cref="InputRefusedException">The input is no survey, or can't be written to.</exception>
    public async Task KeepTableAsync(Func<string, string, int, Task> write)
    {
        if (Folder is null || State?.Recording(Recording!) is not { } recording)
            throw new InputRefusedException(ExitCode.WrongUsage, $"--keep: '{Path}' is not a recording of a survey. Name the survey's folder.");
        try
        {
            await write(Folder, State.Id, RecordingImport.TableOf(State, recording).Part);
        }
        catch (SurveyException failure)
        {
            throw new InputRefusedException(ExitCode.InputUnusable, failure.Message, failure);
        }
    }

    private static List<SurveyInput> OfSurvey(string path, string? name, string[] kinds)
    {
        using var survey = SurveyRun.Refusing(() => SurveyFolder.Open(path));
        var state = survey.State;
        IEnumerable<SurveyRecording> wanted = state.WorkRecordings.Where(recording => kinds.Contains(recording.Facts.Kind, StringComparer.Ordinal));
        var there = string.Join(", ", state.WorkRecordings.Select(recording => $"'{recording.Name}' ({recording.Facts.Kind})"));
        if (name is not null)
        {
            var named = state.Recording(name)
                ?? throw new InputRefusedException(ExitCode.WrongUsage, $"--recording: the survey '{path}' has no recording '{name}'. It has {(there.Length == 0 ? "none" : there)}.");
            wanted = [named];
        }

        List<SurveyInput> inputs = [.. wanted.Select(recording => Input(survey, path, recording))];
        return inputs.Count > 0 ? inputs : throw new InputRefusedException(
            ExitCode.InputUnusable,
            $"The survey '{path}' has no recording of the kind that is needed ({string.Join(", ", kinds)}); it has {(there.Length == 0 ? "none yet" : there)}. Add one: leadwright survey add {path} FILE");
    }

    private static SurveyInput Input(SurveyFolder survey, string path, SurveyRecording recording)
    {
        var file = recording.Files[0];
        // Refuses paths that lead out of the folder.
        _ = SurveyRun.Refusing(() => survey.PathOf(file));
        return new SurveyInput(System.IO.Path.Combine([path, .. file.Path.Split('/')]), survey.State)
        {
            Folder = path, Recording = recording.Name, Profiles = ProfilesOf(recording), Reading = recording.Facts.Reading,
        };
    }

    private static ImmutableArray<ColumnProfile> ProfilesOf(SurveyRecording recording)
    {
        if (recording.Columns is not { } columns) return [];
        try
        {
            return [ColumnProfileReader.Read(new InputFile($"columns of '{recording.Name}'", JsonSerializer.SerializeToUtf8Bytes(columns, ColumnsJson.Default.JsonElement)))];
        }
        catch (FormatReadException failure)
        {
            throw new InputRefusedException(ExitCode.InputUnusable, failure.Message, failure);
        }
    }
}
