using Leadwright.Surveys.Journal;
using Leadwright.Surveys.Storage;

namespace Leadwright.Surveys;

/// <summary>Bringing files in.</summary>
public sealed partial class SurveyFolder
{
    /// <summary>Copies files into the survey's folder, to be looked at before they are taken in. Their bytes are not changed.</summary>
    /// <param name="sources">The files; those of one recording together, the one to open first.</param>
    /// <param name="progress">Is told the share copied, 0 to 1.</param>
    /// <param name="cancellation">Stops it; nothing is left then.</param>
    /// <returns>The copies; dispose them.</returns>
    /// <exception cref="SurveyException">A file can't be read, changed meanwhile, or does not fit on the disk.</exception>
    /// <exception cref="InvalidOperationException">The survey is open to read only.</exception>
    public StagedFiles Stage(IReadOnlyList<IncomingSource> sources, IProgress<double>? progress = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(sources);
        if (sources.Count == 0) throw new ArgumentException("At least one file is needed.", nameof(sources));
        string folder;
        lock (_gate)
        {
            _ = RequireWritable();
            folder = Doing(_storage, "take in files", () =>
            {
                var free = IncomingFiles.FreeFolder(_storage);
                _storage.MakeFolder(IncomingFolder);
                _storage.MakeFolder(free);
                return free;
            });
        }

        try
        {
            return Doing(_storage, "take in files", () => new StagedFiles(_storage, folder, IncomingFiles.Copy(_storage, folder, sources, progress, cancellation)));
        }
        catch
        {
            // Only this thread knows the folder: nobody else is disturbed.
            new StagedFiles(_storage, folder, []).Dispose();
            throw;
        }
    }

    /// <summary>Takes staged files in as a recording. When this returns, files and entry are on the disk.</summary>
    /// <param name="staged">The files.</param>
    /// <param name="facts">What was found in them. The name is a wish: it gets a number when it is taken; empty for that of the first file.
    /// Its files are not looked at.</param>
    /// <param name="why">Why, as typed; empty when nobody said.</param>
    /// <param name="who">By whom; null for the author the survey was opened by.</param>
    /// <returns>The recording.</returns>
    /// <exception cref="SurveyException">It could not be saved: nothing changed.</exception>
    public SurveyRecording Import(StagedFiles staged, RecordingImported facts, string why = "", string? who = null)
    {
        ArgumentNullException.ThrowIfNull(staged);
        ArgumentNullException.ThrowIfNull(facts);
        lock (_gate)
        {
            _ = RequireWritable();
            var wish = SafeFileName.StemOf(facts.Name.Length > 0 ? facts.Name : staged.Files[0].Name);
            var name = SafeFileName.Free(wish, name => _state.Recording(name) is not null || _storage.Exists($"{OriginalsFolder}/{name}"));
            var entry = TakeIn(staged, $"{OriginalsFolder}/{name}", folder => AppendAny(
                facts with { Name = name, Files = [.. staged.Files.Select(file => file with { Path = $"{folder}/{StoredPath.NameOf(file.Path)}" })] }, why, who));
            return _state.Recordings.First(recording => recording.Entry == entry.Number);
        }
    }

    /// <summary>Takes one staged file in as a photo or other paper.</summary>
    /// <param name="staged">The file.</param>
    /// <param name="caption">What it shows, as typed.</param>
    /// <param name="proof">The entry of the proof it belongs to; null for none.</param>
    /// <param name="who">By whom; null for the author the survey was opened by.</param>
    /// <exception cref="SurveyException">It could not be saved: nothing changed.</exception>
    public KeptPhoto Attach(StagedFiles staged, string caption, long? proof = null, string? who = null)
    {
        ArgumentNullException.ThrowIfNull(staged);
        ArgumentNullException.ThrowIfNull(caption);
        if (staged.Files.Length != 1) throw new ArgumentException("Photos are attached one by one.", nameof(staged));
        lock (_gate)
        {
            _ = RequireWritable();
            var name = SafeFileName.Free(SafeFileName.StemOf(staged.Files[0].Name), name => _storage.Exists($"{AttachmentsFolder}/{name}"));
            var entry = TakeIn(staged, $"{AttachmentsFolder}/{name}", folder => AppendAny(
                new PhotoAttached(staged.Files[0] with { Path = $"{folder}/{StoredPath.NameOf(staged.Files[0].Path)}" }, caption, proof), "", who));
            return _state.Photos.First(photo => photo.Entry == entry.Number);
        }
    }

    private JournalEntry TakeIn(StagedFiles staged, string folder, Func<string, JournalEntry> append)
    {
        if (!staged.IsOf(_storage)) throw new ArgumentException("These files were staged elsewhere, taken in already, or thrown away.", nameof(staged));
        var hasMoved = false;
        try
        {
            Doing(_storage, "take in files", () =>
            {
                IncomingFiles.Move(_storage, staged.Folder, folder, staged.Files);
                return hasMoved = true;
            });
            var entry = append(folder);
            staged.TakenIn();
            TidyUp(() => IncomingFiles.EndClaim(_storage, staged.Folder));
            return entry;
        }
        catch
        {
            // When the journal is in doubt its next reading decides, and the claim is kept until then.
            if (_isBroken)
            {
                if (hasMoved) staged.TakenIn();
                throw;
            }

            TidyUp(() =>
            {
                IncomingFiles.TakeBack(_storage, folder, staged.Files.Select(file => StoredPath.NameOf(file.Path)));
                IncomingFiles.EndClaim(_storage, staged.Folder);
            });
            throw;
        }
    }

    // What can't be tidied now is tidied when the survey is opened to write again.
    private static void TidyUp(Action tidy)
    {
        try
        {
            tidy();
        }
        catch (Exception failure) when (StorageFailure.IsOne(failure))
        {
        }
    }
}
