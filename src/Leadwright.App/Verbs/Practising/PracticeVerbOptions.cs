using System.CommandLine;
using System.Security.Cryptography;
using Leadwright.Core.Hookups;
using Leadwright.Core.Panels;
using Leadwright.Core.Practice;

namespace Leadwright.App.Verbs.Practising;

/// <summary>The options of <c>practice</c>, each defined once; help and errors derive from it.</summary>
internal sealed class PracticeVerbOptions
{
    // A number that a trainer can write on a board.
    private const int SeedsBelow = 1_000_000;

    private readonly Argument<string[]> _files = new("ANSWER")
    {
        Description = "With --mark and --take: the answer.json that came with the exercise. With --class: folders of answers.",
        Arity = ArgumentArity.ZeroOrMore,
    };

    private readonly Option<string?> _form = VerbOptions.Among(
        "--form", "The form of exercise.", "panel", [.. Enum.GetValues<PracticeForm>().Select(ExerciseKey.WordOf)]);

    private readonly Option<string?> _service = VerbOptions.Among(
        "--service", "The service, for the forms panel and name-the-fault. Default: the seed chooses.", null, [.. Service.All.Select(service => service.Name)]);

    private readonly Option<string?> _load = VerbOptions.Among(
        "--load", "The kind of site, for the forms panel and name-the-fault. Default: the seed chooses.", null,
        [.. Enum.GetNames<LoadFamily>().Select(name => name.ToLowerInvariant())]);

    private readonly Option<int> _level = new("--level")
    {
        Description = "1 easy, 2 ordinary, 3 hard.", HelpName = "1|2|3", DefaultValueFactory = _ => 1,
    };

    private readonly Option<ulong?> _seed = new("--seed")
    {
        Description = "The same seed makes the same exercise on every machine. Default: a random one.", HelpName = "N",
    };

    private readonly Option<string> _trainee = new("--trainee")
    {
        Description = "Who answers; written into answer.json.", HelpName = "NAME", DefaultValueFactory = _ => "",
    };

    private readonly Option<bool> _mark = new("--mark") { Description = "Marks answers and shows the truth." };

    private readonly Option<string?> _take = new("--take")
    {
        Description = "Takes one more reading at the panel of the exercise, such as switched:A or meter:V1-B, and notes it in the answer. Costs two points.",
        HelpName = "ACTION",
    };

    private readonly Option<bool> _class = new("--class") { Description = "Marks all answers in folders and adds them up for each trainee; -o writes them as CSV." };

    private readonly Option<string?> _output = new("-o", "--output")
    {
        Description = "The folder of the exercise (default: exercise). With --class: the CSV.", HelpName = "PATH",
    };

    private readonly Option<string?> _format = VerbOptions.Format();

    public PracticeVerbOptions()
    {
        _level.Validators.Add(result =>
        {
            if (result.GetValueOrDefault<int>() is < ExerciseKey.LowestLevel or > ExerciseKey.HighestLevel)
                result.AddError($"--level: {result.GetValueOrDefault<int>()} is not 1, 2 or 3.");
        });
        _take.Validators.Add(result =>
        {
            var text = result.GetValueOrDefault<string?>();
            if (text is not null && PracticeActions.Named(text) is null)
                result.AddError($"--take: '{text}' is no action. Write it as in rotation, meter:V1-B, hand-clamp:A, switched:A, switched:A-B or motor.");
        });
    }

    public void AddTo(Command command)
    {
        VerbOptions.RefuseUnknownOptions(_files, "practice");
        command.Validators.Add(result =>
        {
            var modes = (result.GetValue(_mark) ? 1 : 0) + (result.GetResult(_take) is null ? 0 : 1) + (result.GetValue(_class) ? 1 : 0);
            var count = result.GetResult(_files)?.Tokens.Count ?? 0;
            if (modes > 1) result.AddError("Give one of --mark, --take and --class.");
            else if (modes == 1 && count == 0) result.AddError(result.GetValue(_class) ? "Name the folder with the answers." : "Name the answer.json of the exercise.");
            else if (modes == 0 && count > 0) result.AddError("An exercise is made without files. To mark an answer, give --mark.");
        });
        command.Add(_files);
        foreach (var option in (Option[])[_form, _service, _load, _level, _seed, _trainee, _mark, _take, _class, _output, _format])
            command.Add(option);
    }

    public PracticeRequest RequestOf(ParseResult parsed)
    {
        var action = parsed.GetValue(_take);
        return new PracticeRequest
        {
            Files = parsed.GetValue(_files) ?? [],
            Key = new ExerciseKey(
                ExerciseKey.FormOf(parsed.GetValue(_form))!.Value,
                Service.Named(parsed.GetValue(_service))?.Kind,
                parsed.GetValue(_load) is { } load ? Enum.Parse<LoadFamily>(load, ignoreCase: true) : null,
                parsed.GetValue(_level),
                parsed.GetValue(_seed) ?? (ulong)RandomNumberGenerator.GetInt32(SeedsBelow)),
            Trainee = parsed.GetValue(_trainee)!,
            Task = parsed.GetValue(_mark) ? PracticeTask.Mark : action is not null ? PracticeTask.Take
                : parsed.GetValue(_class) ? PracticeTask.Class : PracticeTask.Make,
            Action = action is null ? null : PracticeActions.Named(action),
            Output = parsed.GetValue(_output),
            IsJson = parsed.GetValue(_format) == "json",
        };
    }
}
