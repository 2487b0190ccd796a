using Leadwright.Core.Practice;
using Leadwright.Reports.Practice;

namespace Leadwright.Reports.Tests.Practice;

public sealed class PracticeWordingTests
{
    private static readonly string[] s_wordsInside = ["-", ":"];

    public static TheoryData<PracticeForm> Forms => [.. Enum.GetValues<PracticeForm>()];

    [Theory]
    [MemberData(nameof(Forms))]
    public void Every_form_has_its_words_and_every_choice_is_said_in_plain_ones(PracticeForm form)
    {
        Assert.NotEmpty(PracticeWording.Title(form));
        Assert.EndsWith(".", PracticeWording.Summary(form).Replace('?', '.'), StringComparison.Ordinal);
        foreach (var seed in Enumerable.Range(1, 20))
        {
            var exercise = Exercise.Of(new ExerciseKey(form, null, null, 2, (ulong)seed));
            Assert.EndsWith("?", PracticeWording.Question(exercise).Replace(".", "?", StringComparison.Ordinal), StringComparison.Ordinal);
            foreach (var choice in exercise.Choices.Where(choice => s_wordsInside.Any(choice.Contains)))
                Assert.NotEqual(choice, PracticeWording.Choice(exercise, choice));
            foreach (var figure in exercise.Figures) Assert.DoesNotContain(figure.Name, PracticeWording.Figure(figure), StringComparison.Ordinal);
            foreach (var action in exercise.Actions) Assert.DoesNotContain(":", ActionWording.Of(action), StringComparison.Ordinal);
        }
    }

    [Fact]
    public void An_exercise_does_not_tell_its_truth()
    {
        // The same screen of two sites: what is written of them before the answer must be the same, but for their seals.
        var texts = Enumerable.Range(1, 12).Select(seed => Exercise.Of(new ExerciseKey(PracticeForm.StillSaved, null, null, 1, (ulong)seed)))
            .GroupBy(exercise => exercise.Recorded).First(group => group.Count() > 1).Select(PracticeText.Of).ToList();
        Assert.Single(texts.Distinct());
    }

    [Fact]
    public void A_text_keeps_to_eighty_columns()
    {
        foreach (var form in Enum.GetValues<PracticeForm>())
        {
            var exercise = Exercise.Of(new ExerciseKey(form, null, null, 3, 4));
            Assert.All(PracticeText.Of(exercise).Split('\n'), line => Assert.True(line.Length <= 86, line));
        }
    }

    [Fact]
    public void A_mark_says_points_with_a_true_minus_and_owns_up_when_nothing_was_asked()
    {
        var exercise = Exercise.Of(new ExerciseKey(PracticeForm.StillSaved, null, null, 1, 3));
        var wrong = exercise.Choices.First(choice => !Marking.Mark(exercise, Said(choice, 0.5)).IsRight);
        var document = MarkDocument.Of(Marking.Mark(exercise, Said(wrong, 1)));
        Assert.Equal("−120 points: 0 for the answer, −120 for saying 100 % sure.", document.Score);
        Assert.Equal("", document.OpinionSays);
        Assert.NotEmpty(document.Lesson);
    }

    // RFC 4180: a name with a comma or a quotation mark is quoted; a name that begins like a formula is made harmless.
    [Fact]
    public void A_class_sheet_is_a_table_that_any_spreadsheet_reads()
    {
        var key = new ExerciseKey(PracticeForm.StillSaved, null, null, 1, 3);
        var sheet = new ClassSheet([new ClassEntry("Ben \"B\", jr", key, true, 0.75, 0.0625, 2, 86), new ClassEntry("=1+1", key, false, 0.5, 0.25, 0, 0)]);
        var lines = ClassSheetCsv.Of(sheet).Split('\n');
        Assert.StartsWith("\"Ben \"\"B\"\", jr\",still-saved,1,LW1-", lines[1], StringComparison.Ordinal);
        Assert.EndsWith(",yes,0.75,0.0625,2,86", lines[1], StringComparison.Ordinal);
        Assert.StartsWith("'=1+1,", lines[2], StringComparison.Ordinal);
        Assert.Equal(["Ben \"B\", jr", "=1+1"], sheet.Lines.Select(line => line.Trainee));
    }

    private static PracticeAnswer Said(string choice, double confidence) => new() { Choice = choice, Confidence = confidence };
}
