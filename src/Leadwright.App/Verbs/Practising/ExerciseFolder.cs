using System.Collections.Immutable;
using Leadwright.Core.Hookups.Settling;
using Leadwright.Core.Practice;
using Leadwright.Formats;
using Leadwright.Formats.Practice;
using Leadwright.Formats.Readings;
using Leadwright.Reports.Practice;

namespace Leadwright.App.Verbs.Practising;

/// <summary>The files of an exercise on disk.</summary>
internal static class ExerciseFolder
{
    private const string Unfinished = ".unfinished";

    /// <summary>Writes the exercise for the trainee: what is asked, the readings, and the answer to fill in.</summary>
    /// <param name="folder">A folder that does not exist yet, or is empty.</param>
    /// <param name="exercise">The exercise.</param>
    /// <param name="trainee">Who answers; may be empty.</param>
    /// <exception cref="InputRefusedException">Something is in the folder, or it can't be written.</exception>
    public static void Write(string folder, Exercise exercise, string trainee)
    {
        try
        {
            if (File.Exists(folder) || (Directory.Exists(folder) && Directory.EnumerateFileSystemEntries(folder).Any()))
            {
                throw new InputRefusedException(
                    ExitCode.WrongUsage, $"-o: '{folder}' is there already and not empty. Name a new folder, so that no answer is lost.");
            }

            // Whole or not at all: the folder gets its name when all of it is written.
            var draft = folder.TrimEnd(Path.DirectorySeparatorChar, Path.AltDirectorySeparatorChar) + Unfinished;
            if (Directory.Exists(draft)) Directory.Delete(draft, recursive: true);
            Directory.CreateDirectory(draft);
            File.WriteAllText(Path.Combine(draft, "exercise.json"), PracticeJson.Of(exercise, isIndented: true) + "\n");
            if (exercise.Readings is { } readings) File.WriteAllBytes(Path.Combine(draft, "readings.json"), ReadingsWriter.Write(readings));
            File.WriteAllBytes(Path.Combine(draft, "answer.json"), AnswerWriter.Template(exercise, trainee, []));
            if (Directory.Exists(folder)) Directory.Delete(folder);
            Directory.Move(draft, folder);
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            throw InputRefusedException.CannotWrite($"'{folder}'", failure);
        }
    }

    /// <summary>Reads a file.</summary>
    /// <exception cref="InputRefusedException">It can't be read.</exception>
    public static InputFile Open(string path)
    {
        try
        {
            return new InputFile(path, File.ReadAllBytes(path));
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            throw InputRefusedException.CannotRead(path, failure);
        }
    }

    /// <summary>Notes one more action in an answer, and leaves everything else in it as it stands.</summary>
    /// <exception cref="InputRefusedException">It can't be written.</exception>
    public static void Note(InputFile file, ImmutableArray<SettlingAction> taken, SettlingAction action)
    {
        var bytes = AnswerNotes.WithTaken(file, [.. taken.Select(entry => entry.Id), action.Id]);
        WholeFile.Write(file.Name, bytes);
    }
}
