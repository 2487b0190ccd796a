using Leadwright.Surveys.Journal;
using Leadwright.Surveys.Storage;

namespace Leadwright.Surveys.Tests.Faults;

/// <summary>A working day on a survey: made, changed, recordings and a photo brought in, corrected, closed and opened again. It goes on after a
/// failure, as a person would, and notes what it was told to be saved.</summary>
internal sealed class FaultScenario
{
    private readonly List<(long Number, string What)> _saved = [];

    /// <summary>Entries that were told to be saved.</summary>
    public IReadOnlyList<(long Number, string What)> Saved => _saved;

    /// <summary>Steps that failed with a message for a person.</summary>
    public int FailedSteps { get; private set; }

    /// <summary>Goes through it.</summary>
    /// <exception cref="PowerCutException">The power was cut.</exception>
    public void Run(ISurveyStorage storage)
    {
        SurveyFolder? survey = null;
        Try(() =>
        {
            survey = SurveyFolder.Create(storage, Surveys.Sample, Surveys.Author);
            Note(survey.Entries[0]);
        });
        if (survey is null) return;
        Try(() => Note(survey.Append(new SiteChanged("Main board", new() { Name = "Invented works" }, new() { Service = "wye" }), "typed wrong")));
        Try(() => Import(survey, "week.csv", "time;V1\n1;230\n", "week.hdr", "seen\n"));
        Try(() => Note(survey.Append(new GuardKept("week", Surveys.Json("""{"schema":"leadwright.guard/1"}""")))));
        Try(() => Import(survey, "week.csv", "time;V1\n1;231\n"));
        Try(() =>
        {
            using var staged = survey.Stage([Surveys.Source("board.jpg", "not really a photo")]);
            survey.Attach(staged, "The board");
            Note(survey.Entries[^1]);
        });
        Try(() => Note(survey.Append(new CorrectionAccepted("c1", "week", Surveys.Json("""{"kind":"clamp-reversed"}""")), "clamp I2 was reversed")));
        Try(() => Note(survey.Append(new CorrectionSwitched("c1", false), "not sure")));
        Try(survey.Dispose);
        Try(() =>
        {
            using var again = SurveyFolder.Open(storage, SurveyAccess.Write, Surveys.Author);
            Note(again.Append(new PlanChanged(new() { Text = "Two weeks." })));
        });
    }

    private void Import(SurveyFolder survey, params string[] namesAndContents)
    {
        using var staged = survey.Stage([.. namesAndContents.Chunk(2).Select(pair => Surveys.Source(pair[0], pair[1]))]);
        survey.Import(staged, Surveys.Facts());
        Note(survey.Entries[^1]);
    }

    private void Note(JournalEntry entry) => _saved.Add((entry.Number, entry.What));

    private void Try(Action step)
    {
        try
        {
            step();
        }
        catch (SurveyException)
        {
            FailedSteps++;
        }
    }
}
