using System.Globalization;

namespace Leadwright.Surveys.Tests.Faults;

/// <summary>Every writing step of a day's work fails once, in every way a disk fails. Nothing that was told to be saved may be lost, nothing may be half there,
/// and the survey must go on.</summary>
public sealed class FaultTests
{
    [Fact]
    public void Without_a_fault_the_day_saves_nine_entries_and_leaves_nothing_behind()
    {
        var disk = new SimulatedDisk();
        var day = new FaultScenario();
        day.Run(disk);
        Assert.Equal(0, day.FailedSteps);
        Assert.Equal(Enumerable.Range(1, 9).Select(number => (long)number), day.Saved.Select(saved => saved.Number));
        Assert.Equal(
            ["attachments/", "attachments/board/", "attachments/board/board.jpg", "journal.jsonl", "originals/", "originals/week-2/", "originals/week-2/week.csv",
                "originals/week/", "originals/week/week.csv", "originals/week/week.hdr", "survey.json"],
            disk.AllPaths().Order(StringComparer.Ordinal));
    }

    [Theory]
    [InlineData(DiskFault.Once)]
    [InlineData(DiskFault.Full)]
    [InlineData(DiskFault.Gone)]
    public void Failing_at_every_step_loses_nothing_that_was_saved(DiskFault fault)
    {
        var steps = StepsOfTheDay();
        Assert.True(steps > 80, "The day must have many steps to fail at.");
        for (var step = 1; step <= steps; step++)
        {
            var disk = new SimulatedDisk(fault, step);
            var day = new FaultScenario();
            day.Run(disk);
            RequireSound(disk.Healed(), day, Invariant($"{fault} at step {step}"));
        }
    }

    [Fact]
    public void Cutting_the_power_at_every_step_loses_nothing_that_was_saved()
    {
        var steps = StepsOfTheDay();
        for (var step = 1; step <= steps; step++)
        {
            for (var seed = 0; seed < 12; seed++)
            {
                var disk = new SimulatedDisk(DiskFault.PowerCut, step);
                var day = new FaultScenario();
                Assert.Throws<PowerCutException>(() => day.Run(disk));
                RequireSound(disk.AfterPowerCut(new Random((step * 100) + seed)), day, Invariant($"power cut at step {step}, seed {seed}"));
            }
        }
    }

    [Fact]
    public void Cutting_the_power_again_while_leftovers_are_cleared_loses_nothing()
    {
        var steps = StepsOfTheDay();
        for (var step = 1; step <= steps; step++)
        {
            var disk = new SimulatedDisk(DiskFault.PowerCut, step);
            var day = new FaultScenario();
            Assert.Throws<PowerCutException>(() => day.Run(disk));
            var chance = new Random(step);
            var after = disk.AfterPowerCut(chance);
            for (var second = 1; second <= 6; second++)
            {
                after.Fault = DiskFault.PowerCut;
                after.FailAt = after.Steps + second;
                try
                {
                    using var survey = SurveyFolder.Open(after, SurveyAccess.Write, Surveys.Author);
                }
                catch (Exception failure) when (failure is PowerCutException or SurveyException { Problem: SurveyProblem.NotASurvey or SurveyProblem.NotFound })
                {
                }

                after = after.AfterPowerCut(chance);
            }

            RequireSound(after, day, Invariant($"power cut at step {step} and again while clearing"));
        }
    }

    [Fact]
    public void The_proof_sees_a_line_that_is_lost()
    {
        var disk = new SimulatedDisk();
        var day = new FaultScenario();
        day.Run(disk);
        var lines = System.Text.Encoding.UTF8.GetString(disk.BytesOf("journal.jsonl")).Split('\n', StringSplitOptions.RemoveEmptyEntries);
        disk.SetBytes("journal.jsonl", System.Text.Encoding.UTF8.GetBytes(string.Join('\n', lines[..^1]) + "\n"));
        Assert.ThrowsAny<Exception>(() => RequireSound(disk.Healed(), day, "a lost line"));
    }

    [Theory]
    [InlineData(true, false)]
    [InlineData(false, true)]
    public void The_proof_sees_a_store_that_does_not_flush(bool ignoresFiles, bool ignoresFolders)
    {
        var unsound = 0;
        for (var step = 1; step <= StepsOfTheDay(); step++)
        {
            var disk = new SimulatedDisk(DiskFault.PowerCut, step) { IgnoresFlushOfFiles = ignoresFiles, IgnoresFlushOfFolders = ignoresFolders };
            var day = new FaultScenario();
            Assert.Throws<PowerCutException>(() => day.Run(disk));
            if (Record.Exception(() => RequireSound(disk.AfterPowerCut(new Random(step)), day)) is not null) unsound++;
        }

        Assert.True(unsound > 10, "A store that trusts what is not on the disk must be found out.");
    }

    private static int StepsOfTheDay()
    {
        var disk = new SimulatedDisk();
        new FaultScenario().Run(disk);
        return disk.Steps;
    }

    private static void RequireSound(SimulatedDisk disk, FaultScenario day, string what)
    {
        try
        {
            RequireSound(disk, day);
        }
        catch (Exception failure) when (failure is not Xunit.Sdk.XunitException || !failure.Message.StartsWith(what, StringComparison.Ordinal))
        {
            Assert.Fail($"{what}: {failure.Message}\nOn the disk: {string.Join(", ", disk.AllPaths())}");
        }
    }

    private static void RequireSound(SimulatedDisk disk, FaultScenario day)
    {
        SurveyFolder survey;
        try
        {
            // A reader is never stopped, whatever was left behind.
            using (var reader = SurveyFolder.Open(disk, SurveyAccess.Read, null)) RequireSaved(reader, day);
            survey = SurveyFolder.Open(disk, SurveyAccess.Write, Surveys.Author);
        }
        catch (SurveyException refusal) when (refusal.Problem is SurveyProblem.NotASurvey or SurveyProblem.NotFound)
        {
            Assert.Empty(day.Saved);
            // What a making leaves behind when it is cut short is no hindrance to making it again.
            survey = SurveyFolder.Create(disk, Surveys.Sample, Surveys.Author);
        }

        using (survey)
        {
            RequireSaved(survey, day);
            Assert.True(survey.Entries.Length <= Math.Max(day.Saved.Count, 1) + 1, "Only the entry in progress may be there besides those that were saved.");
            var verified = survey.Verify(cancellation: TestContext.Current.CancellationToken);
            Assert.True(verified.IsSound);
            Assert.Empty(verified.Strays);
            Assert.Empty(survey.State.NotUnderstood);
            Assert.DoesNotContain(disk.AllPaths(), path => path.StartsWith("incoming", StringComparison.Ordinal) || path.EndsWith(".new", StringComparison.Ordinal));
            Assert.Equal(survey.DocumentBytes(), disk.BytesOf("survey.json"));
            var next = survey.Append(new Journal.AnswersTold(["rotation=abc"]));
            Assert.Equal(next, survey.Entries[^1]);
        }

        using var again = SurveyFolder.Open(disk, SurveyAccess.Read, null);
        Assert.Equal(["rotation=abc"], again.State.Told);
        Assert.Empty(again.Faults);
    }

    [Theory]
    [InlineData("survey.json")]
    [InlineData("journal.jsonl")]
    public void A_reader_finds_no_fault_in_a_survey_that_is_written_to_while_it_reads(string file)
    {
        var disk = new SimulatedDisk();
        using var writer = SurveyFolder.Create(disk, Surveys.Sample, Surveys.Author);
        var isWritten = false;
        disk.Reading = path =>
        {
            if (path != file || isWritten) return;
            isWritten = true;
            writer.Append(new Journal.AnswersTold(["rotation=abc"]));
        };
        using var reader = SurveyFolder.Open(disk, SurveyAccess.Read, null);
        Assert.True(isWritten);
        Assert.Empty(reader.Faults);
    }

    private static void RequireSaved(SurveyFolder survey, FaultScenario day)
    {
        Assert.Empty(survey.Faults);
        var found = survey.Entries.Select(entry => (entry.Number, entry.What)).ToList();
        Assert.All(day.Saved, saved => Assert.Contains(saved, found));
    }

    private static string Invariant(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
