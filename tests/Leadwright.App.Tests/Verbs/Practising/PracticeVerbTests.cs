using System.Text.Json;
using System.Text.Json.Nodes;
using Leadwright.App.Verbs;

namespace Leadwright.App.Tests.Verbs.Practising;

public sealed class PracticeVerbTests : IDisposable
{
    private readonly string _root = Directory.CreateTempSubdirectory("leadwright-practice-").FullName;

    public void Dispose() => Directory.Delete(_root, recursive: true);

    [Fact]
    public async Task An_exercise_is_a_folder_that_hides_its_truth_and_whose_readings_check_reads()
    {
        var run = await MakeAsync("one", "--form", "name-the-fault", "--service", "wye", "--seed", "7");
        Assert.Equal((0, ""), (run.Code, run.Error));
        Assert.Equal(["answer.json", "exercise.json", "readings.json"], Directory.GetFiles(Folder("one")).Select(Path.GetFileName).Order());
        foreach (var path in Directory.GetFiles(Folder("one")))
        {
            var text = await File.ReadAllTextAsync(path, TestContext.Current.CancellationToken);
            Assert.DoesNotContain("\"reversed\": true", text, StringComparison.Ordinal);
            Assert.DoesNotContain("faults", text, StringComparison.Ordinal);
            Assert.DoesNotContain("/7", text, StringComparison.Ordinal);
        }

        var check = await RunAsync("check", Path.Combine(Folder("one"), "readings.json"), "--format", "json");
        Assert.Contains(check.Code, new[] { 0, 10, 11 });
        Assert.Equal("leadwright.check/1", Json(check.Output).GetProperty("schema").GetString());
    }

    [Fact]
    public async Task The_same_seed_makes_the_same_files()
    {
        await MakeAsync("one", "--level", "3", "--seed", "99");
        await MakeAsync("two", "--level", "3", "--seed", "99");
        await MakeAsync("three", "--level", "3", "--seed", "98");
        Assert.Equal(Text("one", "exercise.json"), Text("two", "exercise.json"));
        Assert.Equal(Text("one", "readings.json"), Text("two", "readings.json"));
        Assert.NotEqual(Text("one", "readings.json"), Text("three", "readings.json"));
    }

    [Fact]
    public async Task An_answer_as_it_comes_asks_to_be_filled_in()
    {
        await MakeAsync("one", "--seed", "5", "--service", "wye");
        var run = await RunAsync("practice", "--mark", Answer("one"));
        Assert.Equal((1, ""), (run.Code, run.Output));
        Assert.Contains("'$.confidence': expected how sure the answer is, a number from 0 to 1, found null.", run.Error, StringComparison.Ordinal);
        Change("one", node => node["confidence"] = 0.5);
        run = await RunAsync("practice", "--mark", Answer("one"));
        Assert.Equal(1, run.Code);
        Assert.Contains("'$.hookup.V1.on'", run.Error, StringComparison.Ordinal);
        Assert.Contains("Fill it in.", run.Error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_right_answer_gets_its_points_and_a_wrong_one_is_told_the_truth()
    {
        await MakeAsync("one", "--form", "name-the-fault", "--seed", "12", "--service", "wye", "--trainee", "Ada");
        Fill("one", 0.9);
        var first = Json((await RunAsync("practice", "--mark", Answer("one"), "--format", "json")).Output);
        Assert.Equal(PracticeJsonSchema, first.GetProperty("schema").GetString());

        // The truth that the mark shows is the right answer.
        Change("one", node => node["hookup"] = JsonNode.Parse(first.GetProperty("truth").GetProperty("hookup").GetRawText()));
        var run = await RunAsync("practice", "--mark", Answer("one"), "--format", "json");
        var mark = Json(run.Output);
        Assert.Equal((0, ""), (run.Code, run.Error));
        Assert.True(mark.GetProperty("right").GetBoolean());
        Assert.Equal("Ada", mark.GetProperty("trainee").GetString());

        // 60 for the places, 40 (1 − 4 · 0.1²) for nine in ten.
        Assert.Equal(60 + 38.4, mark.GetProperty("points").GetDouble(), 1e-6);
        Assert.Equal(0.01, mark.GetProperty("brier").GetDouble(), 1e-9);
        Assert.InRange(mark.GetProperty("check").GetProperty("confidence").GetDouble(), 0, 1);

        Change("one", node => node["hookup"]!["I2"] = JsonNode.Parse("""{"on": null}"""));
        var wrong = await RunAsync("practice", "--mark", Answer("one"));
        Assert.Contains(wrong.Code, new[] { 10, 11 });
        Assert.StartsWith("WRONG  Name the fault, Ada", wrong.Output, StringComparison.Ordinal);
        Assert.Contains("! I2  on", wrong.Output, StringComparison.Ordinal);
        Assert.Contains("you said on nothing", wrong.Output, StringComparison.Ordinal);
        Assert.Contains("THE TRUTH", wrong.Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_further_reading_is_given_and_noted_and_costs_two_points()
    {
        await MakeAsync("one", "--form", "plausible-total", "--seed", "4");
        Change("one", node => (node["choice"], node["confidence"]) = ("right-leading", 0.5));
        var before = Json((await RunAsync("practice", "--mark", Answer("one"), "--format", "json")).Output).GetProperty("points").GetDouble();
        var run = await RunAsync("practice", "--take", "switched:A", Answer("one"));
        Assert.Equal((0, ""), (run.Code, run.Error));
        Assert.StartsWith("Switch a heater on, conductor A to neutral: ", run.Output, StringComparison.Ordinal);
        Assert.Contains("\"switched:A\"", Text("one", "answer.json"), StringComparison.Ordinal);
        var after = Json((await RunAsync("practice", "--mark", Answer("one"), "--format", "json")).Output);
        Assert.Equal(before - 2, after.GetProperty("points").GetDouble(), 1e-6);
        Assert.StartsWith("switched:A=", after.GetProperty("taken")[0].GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_class_is_added_up_for_each_trainee_and_an_empty_answer_hides_nobody()
    {
        foreach (var (name, trainee, seed) in new[] { ("a1", "Ada", "1"), ("a2", "Ada", "2"), ("b1", "Ben, jr", "1"), ("c1", "Cy", "1") })
            await MakeAsync(name, "--form", "still-saved", "--seed", seed, "--trainee", trainee);
        foreach (var name in new[] { "a1", "a2", "b1" }) Change(name, node => (node["choice"], node["confidence"]) = ("lost", 0.5));
        var csv = Path.Combine(_root, "sheet.csv");
        var run = await RunAsync("practice", "--class", _root, "-o", csv);
        Assert.Equal(1, run.Code);
        Assert.Contains("c1", run.Error, StringComparison.Ordinal);
        Assert.Contains("Ada", run.Output, StringComparison.Ordinal);
        var lines = (await File.ReadAllTextAsync(csv, TestContext.Current.CancellationToken)).TrimEnd('\n').Split('\n');
        Assert.Equal("trainee,form,level,exercise,right,confidence,brier,further_readings,points", lines[0]);
        Assert.Equal(4, lines.Length);
        Assert.StartsWith("\"Ben, jr\",still-saved,1,LW1-", lines[3], StringComparison.Ordinal);
        Assert.All(lines[1..], line => Assert.Contains(",0.5,0.25,0,", line, StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("what-next")]
    [InlineData("heater-test")]
    [InlineData("lead-or-supply")]
    [InlineData("corner-or-open")]
    [InlineData("open-neutral")]
    [InlineData("still-saved")]
    public async Task Every_choice_of_every_form_is_marked(string form)
    {
        await MakeAsync("one", "--form", form, "--seed", "3", "--level", "2");
        var exercise = Json(Text("one", "exercise.json"));
        var rights = 0;
        foreach (var choice in exercise.GetProperty("choices").EnumerateArray())
        {
            Change("one", node => (node["choice"], node["confidence"]) = (choice.GetProperty("choice").GetString(), 0.7));
            var run = await RunAsync("practice", "--mark", Answer("one"), "--format", "json");
            Assert.Contains(run.Code, new[] { 0, 10, 11 });
            if (run.Code == 0) rights++;
        }

        Assert.InRange(rights, 1, exercise.GetProperty("choices").GetArrayLength() - 1);
    }

    [Theory]
    [InlineData(2, "is there already", "practice", "-o", "there")]
    [InlineData(2, "--level: 4 is not 1, 2 or 3", "practice", "--level", "4")]
    [InlineData(2, "Name the answer.json", "practice", "--mark")]
    [InlineData(2, "leave out --service", "practice", "--form", "open-neutral", "--service", "wye", "-o", "new")]
    [InlineData(2, "is no action", "practice", "--take", "jump", "x.json")]
    [InlineData(2, "To mark an answer, give --mark", "practice", "x.json")]
    [InlineData(1, "there is no such file", "practice", "--mark", "none.json")]
    public async Task Wrong_usage_says_what_was_expected(int code, string says, params string[] args)
    {
        Directory.CreateDirectory(Path.Combine(_root, "there"));
        await File.WriteAllTextAsync(Path.Combine(_root, "there", "kept.txt"), "kept", TestContext.Current.CancellationToken);
        var run = await RunAsync([.. args.Select(arg => arg is "there" or "new" ? Path.Combine(_root, arg) : arg)]);
        Assert.Equal((code, ""), (run.Code, run.Output));
        Assert.Contains(says, run.Error, StringComparison.Ordinal);
        Assert.Equal(["there"], Directory.GetFileSystemEntries(_root).Select(Path.GetFileName));
    }

    private const string PracticeJsonSchema = "leadwright.practice/1";

    private Task<(int Code, string Output, string Error)> MakeAsync(string folder, params string[] args) =>
        RunAsync(["practice", .. args, "-o", Folder(folder)]);

    private void Fill(string folder, double confidence) => Change(folder, node =>
    {
        foreach (var (name, place) in node["hookup"]!.AsObject()) place!["on"] = "ABCN"["123N".IndexOf(name[1], StringComparison.Ordinal)].ToString();
        node["confidence"] = confidence;
    });

    private void Change(string folder, Action<JsonNode> change)
    {
        var node = JsonNode.Parse(Text(folder, "answer.json"))!;
        change(node);
        File.WriteAllText(Answer(folder), node.ToJsonString());
    }

    private string Folder(string name) => Path.Combine(_root, name);

    private string Answer(string name) => Path.Combine(Folder(name), "answer.json");

    private string Text(string folder, string file) => File.ReadAllText(Path.Combine(Folder(folder), file));

    private static JsonElement Json(string text) => JsonDocument.Parse(text).RootElement;

    private static async Task<(int Code, string Output, string Error)> RunAsync(params string[] args)
    {
        using var output = new StringWriter { NewLine = "\n" };
        using var error = new StringWriter { NewLine = "\n" };
        var code = await LeadwrightCommand.RunAsync(args, output, error, TestContext.Current.CancellationToken);
        return (code, output.ToString(), error.ToString());
    }
}
