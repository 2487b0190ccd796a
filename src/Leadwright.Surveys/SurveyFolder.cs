using System.Collections.Immutable;
using Leadwright.Surveys.Documents;
using Leadwright.Surveys.Journal;
using Leadwright.Surveys.Storage;

namespace Leadwright.Surveys;

/// <summary>A survey on a disk: one folder that a person can copy.</summary>
/// <remarks>
/// <para>The journal is the survey; everything else follows from it or is named in it. An entry counts from the moment
/// <see cref="Append(JournalPayload, string, string)"/> returns: then it is on the disk, and no pulled plug takes it away. One that throws does
/// not count. <c>survey.json</c> is written from the state after each entry and replaced in one step.</para>
/// <para>One at a time may write; readers never wait. The members of one object may be called from several threads.</para>
/// <para>Layout and promises: <c>docs/formats/survey-folder.md</c>.</para>
/// </remarks>
public sealed partial class SurveyFolder : IDisposable
{
    internal const string DocumentFile = "survey.json";
    internal const string JournalFile = "journal.jsonl";
    internal const string OriginalsFolder = "originals";
    internal const string AttachmentsFolder = "attachments";
    internal const string IncomingFolder = "incoming";
    private const string DraftEnding = ".new";
    private const long MostJournalBytes = 512L << 20;

    private readonly Lock _gate = new();
    private readonly ISurveyStorage _storage;
    private readonly SurveyAuthor? _author;
    private readonly IDisposable? _lock;
    private readonly List<JournalEntry> _entries;
    private string _lastSum;
    private long _journalLength;
    private bool _isDocumentBehind;
    private bool _isBroken;
    private bool _isDisposed;
    private SurveyState _state;

    private SurveyFolder(ISurveyStorage storage, SurveyAuthor? author, IDisposable? held, JournalRead journal)
    {
        _storage = storage;
        _author = author;
        _lock = held;
        _entries = [.. journal.Entries];
        _lastSum = journal.LastSum;
        _journalLength = journal.SoundLength;
        _state = SurveyState.Of(_entries);
        Faults = journal.Faults;
    }

    /// <summary>The folder as named.</summary>
    public string Path => _storage.Name;

    /// <summary>True when it is open to write.</summary>
    public bool IsWritable => _lock is not null;

    /// <summary>The survey as it is now.</summary>
    public SurveyState State
    {
        get { lock (_gate) return _state; }
    }

    /// <summary>The journal, oldest entry first.</summary>
    public ImmutableArray<JournalEntry> Entries
    {
        get { lock (_gate) return [.. _entries]; }
    }

    /// <summary>What is wrong with the journal: lines that were changed, taken out or put in since they were written. Empty when it is sound, and
    /// always when the survey is open to write.</summary>
    public ImmutableArray<string> Faults { get; private set; }

    /// <summary>True when a folder holds a survey.</summary>
    /// <param name="path">The folder.</param>
    public static bool IsSurvey(string path)
    {
        ArgumentNullException.ThrowIfNull(path);
        return File.Exists(System.IO.Path.Combine(path, JournalFile)) || File.Exists(System.IO.Path.Combine(path, DocumentFile));
    }

    /// <summary>Makes a survey.</summary>
    /// <param name="path">Its folder: one that isn't there, or is empty.</param>
    /// <param name="survey">What is known of it.</param>
    /// <param name="author">Who makes it.</param>
    /// <returns>The survey, open to write.</returns>
    /// <exception cref="SurveyException">Something is there already, or the place can't be written to.</exception>
    public static SurveyFolder Create(string path, NewSurvey survey, SurveyAuthor author)
    {
        ArgumentException.ThrowIfNullOrEmpty(path);
        return Create(new DiskStorage(path), survey, author);
    }

    /// <summary>Opens a survey.</summary>
    /// <param name="path">Its folder.</param>
    /// <param name="access">To read or to write.</param>
    /// <param name="author">Who writes; null when it is opened to read.</param>
    /// <exception cref="SurveyException">It is not there, no survey, of a newer version, in use, or damaged.</exception>
    public static SurveyFolder Open(string path, SurveyAccess access = SurveyAccess.Read, SurveyAuthor? author = null)
    {
        ArgumentException.ThrowIfNullOrEmpty(path);
        return Open(new DiskStorage(path), access, author);
    }

    internal static SurveyFolder Create(ISurveyStorage storage, NewSurvey survey, SurveyAuthor author)
    {
        ArgumentNullException.ThrowIfNull(survey);
        ArgumentNullException.ThrowIfNull(author);
        var id = survey.Id ?? SurveyId.New(survey.Title, author.Clock.GetUtcNow());
        SurveyId.Require(id);
        var made = new SurveyCreated(SurveySchema.Name, id, survey.Title, survey.Site, survey.Panel, survey.Plan);
        return Doing(storage, "make the survey", () =>
        {
            storage.Make();
            var held = storage.Lock(HolderOf(author));
            try
            {
                RequireEmpty(storage);
                var line = JournalLine.Write(new JournalEntry(1, author.Clock.GetUtcNow(), author.Name, made, ""), "");
                Replace(storage, JournalFile, line);
                var folder = new SurveyFolder(storage, author, held, JournalRead.Of(line));
                folder.WriteDocument();
                return folder;
            }
            catch
            {
                held.Dispose();
                throw;
            }
        });
    }

    internal static SurveyFolder Open(ISurveyStorage storage, SurveyAccess access, SurveyAuthor? author)
    {
        if (!storage.IsThere)
            throw new SurveyException(SurveyProblem.NotFound, $"There is no folder '{storage.Name}'. Look at its name; a stick may have been pulled.");
        return Doing(storage, "open the survey", () =>
        {
            if (access == SurveyAccess.Read) return new SurveyFolder(storage, null, null, ReadJournal(storage));
            ArgumentNullException.ThrowIfNull(author);
            // Looked at first without the lock: what can't be written at all must not be told as being in use.
            _ = ReadJournal(storage);
            var held = storage.Lock(HolderOf(author));
            try
            {
                return OpenToWrite(storage, author, held);
            }
            catch
            {
                held.Dispose();
                throw;
            }
        });
    }

    /// <summary>Writes an entry. When this returns, the entry is on the disk and counts.</summary>
    /// <param name="payload">What it says.</param>
    /// <param name="why">Why, as typed; empty when nobody said.</param>
    /// <param name="who">By whom; null for the author the survey was opened by.</param>
    /// <returns>The entry with its number and time.</returns>
    /// <exception cref="SurveyException">It could not be saved: nothing changed. Or it speaks of something that is not in the survey.</exception>
    /// <exception cref="InvalidOperationException">The survey is open to read only.</exception>
    public JournalEntry Append(JournalPayload payload, string why = "", string? who = null)
    {
        ArgumentNullException.ThrowIfNull(payload);
        ArgumentNullException.ThrowIfNull(why);
        if (payload is SurveyCreated or RecordingImported or PhotoAttached or SurveyUpgraded or UnknownPayload)
            throw new ArgumentException($"Entries of the kind '{JournalKinds.WordOf(payload)}' are written by the survey itself.", nameof(payload));
        return AppendAny(payload, why, who);
    }

    /// <summary>Reads again what others wrote. Does nothing on a survey that is open to write: nobody else can.</summary>
    /// <returns>True when something was new.</returns>
    /// <exception cref="SurveyException">It can't be read any more.</exception>
    public bool Refresh()
    {
        lock (_gate)
        {
            if (IsWritable) return false;
            var journal = Doing(_storage, "read the journal", () => ReadJournal(_storage));
            if (journal.LastSum == _lastSum && journal.Faults.SequenceEqual(Faults)) return false;
            _entries.Clear();
            _entries.AddRange(journal.Entries);
            _lastSum = journal.LastSum;
            _journalLength = journal.SoundLength;
            _state = SurveyState.Of(_entries);
            Faults = journal.Faults;
            return true;
        }
    }

    /// <summary>Opens a file of the survey to read.</summary>
    /// <param name="file">The file.</param>
    /// <exception cref="SurveyException">It is not there, or its path leads out of the folder.</exception>
    public Stream OpenFile(StoredFile file)
    {
        ArgumentNullException.ThrowIfNull(file);
        return Doing(_storage, $"read '{file.Path}'", () => _storage.OpenRead(file.Path));
    }

    /// <summary>Where a file of the survey is on the disk.</summary>
    /// <param name="file">The file.</param>
    /// <exception cref="SurveyException">Its path leads out of the folder.</exception>
    public string PathOf(StoredFile file)
    {
        ArgumentNullException.ThrowIfNull(file);
        return System.IO.Path.Combine([System.IO.Path.GetFullPath(Path), .. StoredPath.Require(file.Path).Split('/')]);
    }

    /// <summary>Closes it. What was saved stays saved whether this is called or not.</summary>
    public void Dispose()
    {
        lock (_gate)
        {
            if (_isDisposed) return;
            _isDisposed = true;
            if (_isDocumentBehind && !_isBroken) WriteDocument();
            _lock?.Dispose();
        }
    }

    /// <summary>The journal as bytes, up to its last whole line.</summary>
    internal byte[] JournalBytes()
    {
        lock (_gate)
        {
            return Doing(_storage, "read the journal", () =>
            {
                using var stream = _storage.OpenRead(JournalFile);
                var bytes = new byte[_journalLength];
                stream.ReadExactly(bytes);
                return bytes;
            });
        }
    }

    /// <summary>The document of the state as it is now, as <c>survey.json</c> holds it: UTF-8.</summary>
    public ReadOnlyMemory<byte> Document() => DocumentBytes();

    internal byte[] DocumentBytes()
    {
        lock (_gate) return SurveyText.Write(SurveyDocument.Of(_state, _lastSum));
    }

    private JournalEntry AppendAny(JournalPayload payload, string why, string? who)
    {
        lock (_gate)
        {
            var author = RequireWritable();
            var entry = new JournalEntry(_state.LastEntry + 1, author.Clock.GetUtcNow(), who ?? author.Name, payload, why);
            var after = _state.After(entry);
            if (after.NotUnderstood.Length > _state.NotUnderstood.Length)
                throw new SurveyException(SurveyProblem.Refused, $"The survey '{Path}' does not take this: {after.NotUnderstood[^1]}");
            var line = JournalLine.Write(entry, _lastSum);
            Doing(_storage, $"write '{JournalFile}'", () => WriteLine(line));
            _entries.Add(entry);
            _state = after;
            _lastSum = JournalLine.Hex(line.AsSpan(..^1));
            _journalLength += line.Length;
            WriteDocument();
            return entry;
        }
    }

    private SurveyAuthor RequireWritable()
    {
        ObjectDisposedException.ThrowIf(_isDisposed, this);
        if (_author is null) throw new InvalidOperationException("The survey is open to read only.");
        return _isBroken
            ? throw new SurveyException(SurveyProblem.SystemFailure, $"The survey '{Path}' could not be written before, and what is on the disk is not certain. Close it and open it again; what was saved is there.")
            : _author;
    }

    // The commit point of everything: the line is on the disk, or it is cut off again.
    private bool WriteLine(byte[] line)
    {
        if (_journalLength + line.Length > MostJournalBytes)
            throw new SurveyException(SurveyProblem.Refused, $"The journal of '{Path}' would become too long to be opened again. Begin a new survey.");
        using var file = _storage.Append(JournalFile);
        if (file.Length != _journalLength)
        {
            _isBroken = true;
            throw new SurveyException(SurveyProblem.Damaged, $"The journal of '{Path}' was changed by another program while it was open. Close the survey and open it again.");
        }

        try
        {
            file.Write(line);
            file.Flush();
            return true;
        }
        catch
        {
            CutOff(file);
            throw;
        }
    }

    private void CutOff(IStorageFile file)
    {
        try
        {
            file.SetLength(_journalLength);
            file.Flush();
        }
        catch (Exception failure) when (StorageFailure.IsOne(failure))
        {
            // Half a line may stand there now; opening the survey anew finds and drops it.
            _isBroken = true;
        }
    }

    // The journal has the entry already: when the document can't be written now, it is written later.
    private void WriteDocument()
    {
        try
        {
            Replace(_storage, DocumentFile, SurveyText.Write(SurveyDocument.Of(_state, _lastSum)));
            _isDocumentBehind = false;
        }
        catch (Exception failure) when (StorageFailure.IsOne(failure))
        {
            _isDocumentBehind = true;
        }
    }

    private static void Replace(ISurveyStorage storage, string path, byte[] bytes)
    {
        var draft = path + DraftEnding;
        using (var file = storage.Create(draft))
        {
            file.Write(bytes);
            file.Flush();
        }

        storage.Move(draft, path);
        storage.SyncFolder("");
    }

    private static string HolderOf(SurveyAuthor author) => $"{author.Name} on {Environment.MachineName} (process {Environment.ProcessId})";

    private static T Doing<T>(ISurveyStorage storage, string doing, Func<T> work)
    {
        try
        {
            return work();
        }
        catch (Exception failure) when (StorageFailure.IsOne(failure))
        {
            throw StorageFailure.Of(doing, storage.Name, failure);
        }
    }
}
