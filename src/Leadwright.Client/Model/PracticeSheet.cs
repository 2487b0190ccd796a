using System.Collections.Immutable;
using Leadwright.Client.Devices;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups.Settling;
using Leadwright.Core.Practice;
using Leadwright.Formats;
using Leadwright.Reports.Hookups;
using Leadwright.Reports.Practice;

namespace Leadwright.Client.Model;

/// <summary>The practice screen without its looks: the exercise, the answer in the making, the mark and the scores.</summary>
/// <param name="device">Keeps them.</param>
/// <param name="judge">Says what could be known.</param>
public sealed class PracticeSheet(IDevice device, HookupJudge judge)
{
    private const string KeptName = "leadwright.practice";
    private const string ScoresName = "leadwright.practice.scores";
    private const string TraineeName = "leadwright.practice.trainee";
    private bool _isOpen;

    /// <summary>The exercise; null before one was begun.</summary>
    public Exercise? Exercise { get; private set; }

    /// <summary>The answer in the making.</summary>
    public PracticeDraft Draft { get; private set; } = new();

    /// <summary>What was found by further readings, in order.</summary>
    public ImmutableArray<TakenReading> Taken { get; private set; } = [];

    /// <summary>The mark in words; null before the answer.</summary>
    public MarkDocument? Document { get; private set; }

    /// <summary>True while the check of hook-ups is still to be asked what could be known.</summary>
    public bool IsAsking { get; private set; }

    /// <summary>Who answers; may be empty.</summary>
    public string Trainee { get; private set; } = "";

    /// <summary>The scores on this device, oldest first.</summary>
    public ImmutableArray<ClassEntry> Scores { get; private set; } = [];

    /// <summary>How the conductors of the exercise's site are called and coloured.</summary>
    public ConductorNaming Naming => Exercise is null ? ConductorNaming.Letters : ConductorNaming.Of(SiteColours.SchemeOf(SchemeId));

    /// <summary>The colours that are met on such a service.</summary>
    public string SchemeId => (Exercise?.Service, Exercise?.Nominal.LineToNeutralVolts) switch
    {
        (ServiceKind.HighLeg, _) => "us-high-leg",
        (ServiceKind.Split, _) => "us-120-240",
        (_, > 270 and < 280) => "us-277-480",
        (_, < 145) => "us-120-208",
        _ => "iec-60445",
    };

    /// <summary>Takes up what the device kept.</summary>
    public async Task OpenAsync()
    {
        if (_isOpen) return;
        _isOpen = true;
        Trainee = await device.RecallAsync(TraineeName) ?? "";
        Scores = PracticeKept.ReadScores(await device.RecallAsync(ScoresName));
        if (PracticeKept.Read(await device.RecallAsync(KeptName)) is not var (key, draft)) return;
        try
        {
            Exercise = Exercise.Of(key);
            Taken = [.. draft.Taken.Select(Exercise.Take)];
            Draft = draft;
        }
        catch (ArgumentException)
        {
            // Kept by another version of the program: begin anew.
            (Exercise, Taken, Draft) = (null, [], new());
        }
    }

    /// <summary>Begins an exercise; an answer in the making is dropped.</summary>
    /// <param name="key">What to make it from.</param>
    public async Task BeginAsync(ExerciseKey key)
    {
        Exercise = Exercise.Of(key);
        (Draft, Taken, Document, IsAsking) = (new(), [], null, false);
        await KeepAsync();
    }

    /// <summary>Takes one more reading.</summary>
    /// <param name="action">Which.</param>
    public async Task TakeAsync(SettlingAction action)
    {
        if (Exercise is null || Document is not null || Draft.Taken.Contains(action)) return;
        Taken = Taken.Add(Exercise.Take(action));
        await ChangeAsync(Draft with { Taken = Draft.Taken.Add(action) });
    }

    /// <summary>Changes the answer in the making.</summary>
    /// <param name="draft">The new one.</param>
    public async Task ChangeAsync(PracticeDraft draft)
    {
        ArgumentNullException.ThrowIfNull(draft);
        Draft = draft;
        await KeepAsync();
    }

    /// <summary>Says who answers.</summary>
    /// <param name="name">The name; may be empty.</param>
    public async Task NameAsync(string name)
    {
        Trainee = name;
        await device.KeepAsync(TraineeName, name);
    }

    /// <summary>Marks the answer; does nothing while something is missing. What could be known is still to be asked: <see cref="Ask"/>.</summary>
    public async Task MarkAsync()
    {
        if (Exercise is null || Document is not null || Draft.AnswerTo(Exercise, Trainee.Trim()) is not { } answer) return;
        var mark = Marking.Mark(Exercise, answer);
        Document = MarkDocument.Of(mark, null, Naming);
        IsAsking = Exercise.Readings is not null && mark.Truth is not null;
        Scores = Scores.Add(ClassEntry.Of(mark));
        await device.KeepAsync(ScoresName, PracticeKept.WriteScores(Scores));
        await device.KeepAsync(KeptName, "");
    }

    /// <summary>Asks the check of hook-ups what could be known; takes up to some seconds on a slow device.</summary>
    public void Ask()
    {
        if (!IsAsking || Document is null) return;
        IsAsking = false;
        Document = MarkDocument.Of(Document.Mark, Marking.Ask(Document.Mark, (readings, known) => judge(readings, known)), Naming);
    }

    /// <summary>Adds the scores of class sheets from other devices; what is here already is not counted twice.</summary>
    /// <param name="files">The sheets.</param>
    /// <returns>How many were new.</returns>
    /// <exception cref="FormatReadException">A file is none; nothing was added.</exception>
    public async Task<int> GatherAsync(IEnumerable<InputFile> files)
    {
        ArgumentNullException.ThrowIfNull(files);
        var added = ImmutableArray.CreateBuilder<ClassEntry>();
        foreach (var file in files)
        {
            // An exercise may be answered twice alike: so many of a file are new as are more than those known.
            var known = Scores.Concat(added).GroupBy(AsWritten).ToDictionary(group => group.Key, group => group.Count());
            foreach (var entry in ClassSheetReader.Read(file))
            {
                var key = AsWritten(entry);
                if (known.TryGetValue(key, out var left) && left > 0) known[key] = left - 1;
                else added.Add(entry);
            }
        }

        Scores = Scores.AddRange(added);
        await device.KeepAsync(ScoresName, PracticeKept.WriteScores(Scores));
        return added.Count;
    }

    // A table holds fewer digits than the device.
    private static (string, string, bool, double, int, double) AsWritten(ClassEntry entry) => (
        entry.Trainee, ExerciseSeal.Close(entry.Exercise), entry.IsRight, Math.Round(entry.Confidence, 4), entry.Steps, Math.Round(entry.Points, 2));

    /// <summary>Forgets the scores on this device.</summary>
    public async Task ClearScoresAsync()
    {
        Scores = [];
        await device.KeepAsync(ScoresName, "");
    }

    private async Task KeepAsync()
    {
        if (Exercise is not null) await device.KeepAsync(KeptName, PracticeKept.Write(Exercise.Key, Draft));
    }
}
