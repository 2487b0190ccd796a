using System.Collections.Immutable;
using System.CommandLine;
using Leadwright.Core.Hookups.Settling;
using Leadwright.Formats;
using Leadwright.Surveys;
using Leadwright.Surveys.Importing;
using Leadwright.Surveys.Journal;
using Leadwright.Surveys.Shelves;

namespace Leadwright.App.Verbs.Surveying;

/// <summary>The verb <c>survey</c>: makes survey folders, brings recordings in, shows, copies and checks them.</summary>
public sealed class SurveyVerb
{
    private readonly TimeProvider _clock;

    /// <summary>Makes the verb.</summary>
    /// <param name="clock">The clock of the entries; null for the system's.</param>
    public SurveyVerb(TimeProvider? clock = null) => _clock = clock ?? TimeProvider.System;

    /// <summary>The command with its parts.</summary>
    /// <param name="output">Receives the answers.</param>
    /// <param name="error">Receives what can't be done, and how far it is.</param>
    public Command Command(TextWriter output, TextWriter error) => new(
        "survey", "Keeps a survey in one folder: site, plan, original recordings, and a journal of everything that was done. The verbs on recordings take such a folder in place of a file.\n"
        + "Exit codes: 0 done, 10 check found the folder changed, 1 it can't be done, 2 wrong usage.")
    {
        New(output, error), Change(output, error), Add(output, error), Remove(output, error), Attach(output, error), Tell(output, error),
        SurveyDepartingVerb.Command(output, error, _clock), SurveyWordsVerb.Command(output, error, _clock), Show(output, error), List(output, error),
        CopyTo(output, error), Duplicate(output, error), Archive(output, error), Check(output, error),
    };

    private Command New(TextWriter output, TextWriter error)
    {
        var (folder, who, options) = (Folder("The folder to make, or one that is empty."), Who(), new SurveyOptions());
        var command = new Command("new", "Makes a survey.") { folder };
        options.AddTo(command);
        command.Add(who);
        command.SetAction((parsed, _) => SurveyRun.RunAsync(error, () =>
        {
            var path = parsed.GetValue(folder)!;
            using var survey = SurveyFolder.Create(path, options.NewOf(parsed, path), AuthorOf(parsed, who));
            output.WriteLine($"Made the survey '{survey.State.Title}' in {path}.\nNext: leadwright survey add {path} FILE");
            return Task.FromResult(ExitCode.NothingWrong);
        }));
        return command;
    }

    private Command Change(TextWriter output, TextWriter error)
    {
        var (folder, who, why, options) = (Folder(), Who(), Why(), new SurveyOptions());
        var command = new Command("change", "Changes title, site, panel and plan: what is given here, and nothing else.") { folder };
        options.AddTo(command);
        command.Add(why);
        command.Add(who);
        command.SetAction((parsed, _) => SurveyRun.RunAsync(error, () =>
        {
            using var survey = SurveyFolder.Open(parsed.GetValue(folder)!, SurveyAccess.Write, AuthorOf(parsed, who));
            var state = survey.State;
            var site = new SiteChanged(options.TitleOf(parsed, state.Title), options.SiteOf(parsed, state.Site), options.PanelOf(parsed, state.Panel));
            var plan = options.PlanOf(parsed, state.Plan);
            if (site != new SiteChanged(state.Title, state.Site, state.Panel)) survey.Append(site, parsed.GetValue(why) ?? "");
            if (!plan.Equals(state.Plan)) survey.Append(new PlanChanged(plan), parsed.GetValue(why) ?? "");
            output.WriteLine(survey.State.LastEntry == state.LastEntry ? "Nothing is different; nothing was changed." : "Changed.");
            return Task.FromResult(ExitCode.NothingWrong);
        }));
        return command;
    }

    private Command Add(TextWriter output, TextWriter error)
    {
        var (folder, who, why, files) = (Folder(), Who(), Why(), new Argument<string[]>("FILE") { Description = "Recordings: logs, samples, readings, in any format that check, guard or measure read. The files are copied and never changed.", Arity = ArgumentArity.OneOrMore });
        var name = SurveyOptions.Text("--name", "Name of the recording in the survey; that of its file without it.", "NAME");
        var noScan = new Option<bool>("--no-scan") { Description = "Leaves out the look for leads and clamps that came off; guard does it later." };
        var recording = new RecordingOptions("as the survey says.");
        VerbOptions.RefuseUnknownOptions(files, "survey add");
        var command = new Command("add", "Brings recordings into a survey.") { folder, files, name, noScan };
        foreach (var option in recording.OfFile) command.Add(option);
        command.Add(why);
        command.Add(who);
        command.Validators.Add(result =>
        {
            if (result.GetValue(name) is not null && InputPaths.WithoutCompanions(result.GetValue(files) ?? []).Count > 1) result.AddError("--name names one recording: add the files one by one.");
        });
        command.SetAction((parsed, cancellation) => SurveyRun.RunAsync(error, async () =>
        {
            using var survey = SurveyFolder.Open(parsed.GetValue(folder)!, SurveyAccess.Write, AuthorOf(parsed, who));
            var request = recording.RequestOf(parsed);
            var options = new ImportOptions
            {
                Name = parsed.GetValue(name) ?? "",
                Why = parsed.GetValue(why) ?? "",
                IsConfirmed = request.Match is not null,
                Channels = request.Channels,
                ScansIntegrity = !parsed.GetValue(noScan),
                Read = request.ToReadOptions(),
            };
            var codes = new List<ExitCode>();
            foreach (var file in InputPaths.WithoutCompanions(parsed.GetValue(files)!))
            {
                codes.Add((ExitCode)await SurveyRun.RunAsync(error, async () =>
                {
                    using var progress = new SurveyProgress(error);
                    var added = await new RecordingImport(survey).ImportAsync(SourcesOf(file), options, progress.OfImport(Path.GetFileName(file)), cancellation);
                    progress.Dispose();
                    SurveyText.WriteAdded(output, parsed.GetValue(folder)!, added);
                    return ExitCode.NothingWrong;
                }));
            }

            return ExitCodes.WorstOf(codes);
        }));
        return command;
    }

    private Command Remove(TextWriter output, TextWriter error)
    {
        var (folder, who, why) = (Folder(), Who(), Why());
        var recording = SurveyOptions.Text("--recording", "Name of the recording.", "NAME");
        recording.Required = true;
        var undo = new Option<bool>("--undo") { Description = "Puts it back." };
        var command = new Command("remove", "Takes a recording out of the work. Its files stay in the folder: they are the evidence.") { folder, recording, undo, why, who };
        command.SetAction((parsed, _) => SurveyRun.RunAsync(error, () =>
        {
            using var survey = SurveyFolder.Open(parsed.GetValue(folder)!, SurveyAccess.Write, AuthorOf(parsed, who));
            survey.Append(new RecordingRemoved(parsed.GetValue(recording)!, !parsed.GetValue(undo)), parsed.GetValue(why) ?? "");
            output.WriteLine(parsed.GetValue(undo) ? "Put back." : "Taken out of the work; its files stay.");
            return Task.FromResult(ExitCode.NothingWrong);
        }));
        return command;
    }

    private Command Attach(TextWriter output, TextWriter error)
    {
        var (folder, who, file) = (Folder(), Who(), new Argument<string>("FILE") { Description = "A photo or other paper; copied and never changed." });
        var caption = SurveyOptions.Text("--caption", "What it shows.", "TEXT");
        var command = new Command("attach", "Keeps a photo or other paper with the survey.") { folder, file, caption, who };
        command.SetAction((parsed, cancellation) => SurveyRun.RunAsync(error, () =>
        {
            using var survey = SurveyFolder.Open(parsed.GetValue(folder)!, SurveyAccess.Write, AuthorOf(parsed, who));
            using var staged = survey.Stage([IncomingSource.OfFile(parsed.GetValue(file)!)], null, cancellation);
            output.WriteLine($"Kept as {survey.Attach(staged, parsed.GetValue(caption) ?? "").File.Path}.");
            return Task.FromResult(ExitCode.NothingWrong);
        }));
        return command;
    }

    private Command Tell(TextWriter output, TextWriter error)
    {
        var (folder, who) = (Folder(), Who());
        var answers = new Argument<string[]>("ACTION=ANSWER") { Description = "What was found at the panel, as check --told takes it; all of it, what was told before is replaced. None to withdraw it.", Arity = ArgumentArity.ZeroOrMore };
        answers.Validators.Add(result =>
        {
            foreach (var token in result.Tokens)
            {
                if (!ToldAnswer.TryParse(token.Value, out _, out var problem)) result.AddError(problem!);
            }
        });
        var command = new Command("tell", "Keeps what was found at the panel when asked: every check of the survey counts it.") { folder, answers, who };
        command.SetAction((parsed, _) => SurveyRun.RunAsync(error, () =>
        {
            using var survey = SurveyFolder.Open(parsed.GetValue(folder)!, SurveyAccess.Write, AuthorOf(parsed, who));
            survey.Append(new AnswersTold([.. parsed.GetValue(answers) ?? []]));
            output.WriteLine(survey.State.Told.IsEmpty ? "Withdrawn." : $"Kept: {string.Join(", ", survey.State.Told)}.");
            return Task.FromResult(ExitCode.NothingWrong);
        }));
        return command;
    }

    private static Command Show(TextWriter output, TextWriter error)
    {
        var (folder, format, journal) = (Folder(), VerbOptions.Format(), new Option<bool>("--journal") { Description = "Shows the journal too: who did what, when and why." });
        var command = new Command("show", "Shows what a survey holds.") { folder, format, journal };
        command.SetAction((parsed, _) => SurveyRun.RunAsync(error, () =>
        {
            using var survey = SurveyFolder.Open(parsed.GetValue(folder)!);
            if (parsed.GetValue(format) == "json") output.Write(SurveyText.JsonLine(survey));
            else SurveyText.WriteSurvey(output, survey, parsed.GetValue(journal));
            foreach (var fault in survey.Faults) error.WriteLine(fault);
            return Task.FromResult(survey.Faults.IsEmpty ? ExitCode.NothingWrong : ExitCode.FaultsFound);
        }));
        return command;
    }

    private static Command List(TextWriter output, TextWriter error)
    {
        var (folder, format) = (Folder("A folder of surveys."), VerbOptions.Format());
        var archived = new Option<bool>("--archived") { Description = "Shows those that were put away too." };
        var command = new Command("list", "Lists the surveys in a folder, the one that was changed last first.") { folder, format, archived };
        command.SetAction((parsed, cancellation) => SurveyRun.RunAsync(error, () =>
        {
            var shelf = new SurveyShelf(parsed.GetValue(folder)!);
            var found = shelf.List(cancellation).Where(survey => parsed.GetValue(archived) || !survey.IsArchived).ToList();
            foreach (var survey in found) output.WriteLine(parsed.GetValue(format) == "json" ? SurveyText.JsonLine(survey) : SurveyText.LineOf(survey));
            if (found.Count == 0 && parsed.GetValue(format) != "json") output.WriteLine($"No surveys in {shelf.Path}.");
            return Task.FromResult(ExitCode.NothingWrong);
        }));
        return command;
    }

    private static Command CopyTo(TextWriter output, TextWriter error)
    {
        var source = new Argument<string>("SURVEY") { Description = "A survey's folder, or a .zip file with one." };
        var target = new Argument<string>("TO") { Description = "A folder of surveys, such as a stick, into which it is copied under its id; or a .zip file to make." };
        var command = new Command("copy", "Copies a survey: onto a stick, out of a zip file, into one. Every file's check number is compared on the way.") { source, target };
        command.SetAction((parsed, cancellation) => SurveyRun.RunAsync(error, async () =>
        {
            var (from, to) = (parsed.GetValue(source)!, parsed.GetValue(target)!);
            using var progress = new SurveyProgress(error);
            var copy = IsZip(to) ? SurveyPacking.Pack(from, to, progress.Of("packing"), cancellation)
                : IsZip(from) ? SurveyPacking.Unpack(from, to, progress.Of("unpacking"), cancellation)
                : new SurveyShelf(to).CopyFrom(from, progress.Of("copying"), cancellation);
            if (!IsZip(to)) await ComputeTablesAsync(copy.Path, progress, error, cancellation);
            progress.Dispose();
            return SurveyText.WriteCopy(output, error, copy);
        }));
        return command;
    }

    private Command Duplicate(TextWriter output, TextWriter error)
    {
        var (folder, who, target) = (Folder(), Who(), new Argument<string>("TO") { Description = "A folder of surveys." });
        var title = SurveyOptions.Text("--title", "Title of the copy.", "TEXT");
        var command = new Command("duplicate", "Makes a copy that goes its own way from here on.") { folder, target, title, who };
        command.SetAction((parsed, cancellation) => SurveyRun.RunAsync(error, async () =>
        {
            var source = parsed.GetValue(folder)!;
            var named = parsed.GetValue(title);
            if (named is null)
            {
                using var survey = SurveyFolder.Open(source);
                named = survey.State.Title + " (copy)";
            }

            using var progress = new SurveyProgress(error);
            var copy = new SurveyShelf(parsed.GetValue(target)!).Duplicate(source, named, AuthorOf(parsed, who), progress.Of("copying"), cancellation);
            await ComputeTablesAsync(copy.Path, progress, error, cancellation);
            progress.Dispose();
            return SurveyText.WriteCopy(output, error, copy);
        }));
        return command;
    }

    private Command Archive(TextWriter output, TextWriter error)
    {
        var (folder, who, undo) = (Folder(), Who(), new Option<bool>("--undo") { Description = "Takes it out again." });
        var command = new Command("archive", "Puts a survey away: lists leave it out.") { folder, undo, who };
        command.SetAction((parsed, _) => SurveyRun.RunAsync(error, () =>
        {
            using var survey = SurveyFolder.Open(parsed.GetValue(folder)!, SurveyAccess.Write, AuthorOf(parsed, who));
            var isAway = !parsed.GetValue(undo);
            if (survey.State.IsArchived != isAway) survey.Append(new ArchivedChanged(isAway));
            output.WriteLine(isAway ? "Put away." : "Taken out again.");
            return Task.FromResult(ExitCode.NothingWrong);
        }));
        return command;
    }

    private static Command Check(TextWriter output, TextWriter error)
    {
        var (folder, format) = (Folder(), VerbOptions.Format());
        var command = new Command("check", "Compares every file with its check number (SHA-256, which tells if a single byte was changed), and each entry of the journal with the one before it.\nExit codes: 0 as it was written, 10 something was changed or is gone, 1 it can't be read, 2 wrong usage.") { folder, format };
        command.SetAction((parsed, cancellation) => SurveyRun.RunAsync(error, () =>
        {
            using var survey = SurveyFolder.Open(parsed.GetValue(folder)!);
            var found = survey.Verify(null, cancellation);
            if (parsed.GetValue(format) == "json") output.Write(SurveyText.JsonLine(survey.Path, found));
            else SurveyText.WriteVerification(output, survey, found);
            return Task.FromResult(found.IsSound ? ExitCode.NothingWrong : ExitCode.FaultsFound);
        }));
        return command;
    }

    private static Argument<string> Folder(string description = "The survey's folder.") => new("FOLDER") { Description = description };

    private static Option<string?> Who() => SurveyOptions.Text("--who", "Who does this, for the journal; the account's name without it.", "NAME");

    private static Option<string?> Why() => SurveyOptions.Text("--why", "Why, for the journal.", "TEXT");

    private SurveyAuthor AuthorOf(ParseResult parsed, Option<string?> who) => new(parsed.GetValue(who) ?? Environment.UserName, _clock);

    // Tables are computed: a copy that can't have them now is whole without them.
    private static async Task ComputeTablesAsync(string path, SurveyProgress progress, TextWriter error, CancellationToken cancellation)
    {
        using var survey = SurveyFolder.Open(path);
        foreach (var problem in await new RecordingTables(survey).ComputeMissingAsync(progress.Of("computing tables"), cancellation)) await error.WriteLineAsync(problem);
    }

    private static bool IsZip(string path) => Path.GetExtension(path).Equals(".zip", StringComparison.OrdinalIgnoreCase);

    // A COMTRADE record comes with its other files.
    private static List<IncomingSource> SourcesOf(string path)
    {
        var paths = new List<string> { path };
        foreach (var companion in InputReader.CompanionsOf(path))
        {
            if (InputPaths.Beside(path, Path.GetExtension(companion)) is { } beside && !paths.Contains(beside, StringComparer.Ordinal) && Path.GetFullPath(beside) != Path.GetFullPath(path)) paths.Add(beside);
        }

        // The configuration is the one to open.
        return [.. paths.OrderByDescending(file => file.EndsWith(".cfg", StringComparison.OrdinalIgnoreCase)).Select(IncomingSource.OfFile)];
    }
}
