using Leadwright.Surveys;
using Leadwright.Surveys.Shelves;

namespace Leadwright.Fuzzing;

/// <summary>Documents and journals of surveys on a disk, opened to read and to write.</summary>
/// <remarks>The first byte says which of the two files is changed. The oracle: opened, or refused with a message; the originals stay as they were and nothing
/// appears beside the folder.</remarks>
internal sealed class SurveyDocumentTarget : FuzzTarget
{
    private readonly string _place = FuzzPlace.Make();
    private readonly byte[] _document = FuzzTargets.Data("surveys/schema-1", "survey.json")[0];
    private readonly byte[] _journal = FuzzTargets.Data("surveys/schema-1", "journal.jsonl")[0];
    private readonly JournalTarget _journals = new();
    private readonly byte[] _original;
    private readonly string _folder;

    public SurveyDocumentTarget()
    {
        _folder = Path.Combine(_place, "shelf", "board");
        foreach (var (folder, pattern) in (IEnumerable<(string, string)>)[("originals/week", "week.csv"), ("originals/readings", "readings.json"), ("attachments/board", "board.jpg")])
        {
            Directory.CreateDirectory(Path.Combine(_folder, folder));
            File.WriteAllBytes(Path.Combine(_folder, folder, pattern), FuzzTargets.Data($"surveys/schema-1/{folder}", pattern)[0]);
        }

        _original = File.ReadAllBytes(Path.Combine(_folder, "originals/week/week.csv"));
    }

    public override string Name => "survey-document";

    public override byte[] Make(Random chance) => chance.Next(2) == 0
        ? [0, .. FormatTarget.OfJson(_document, [_document, _journal], chance)] : [1, .. _journals.Make(chance)];

    public override bool Read(byte[] input)
    {
        if (input.Length == 0) return false;
        File.WriteAllBytes(Path.Combine(_folder, "survey.json"), input[0] == 0 ? input[1..] : _document);
        File.WriteAllBytes(Path.Combine(_folder, "journal.jsonl"), input[0] == 0 ? _journal : input[1..]);
        var opened = true;
        _ = new SurveyShelf(Path.Combine(_place, "shelf")).List();
        try
        {
            using var reader = SurveyFolder.Open(_folder);
            _ = reader.Verify();
            foreach (var file in reader.State.Files)
            {
                try
                {
                    using var stream = reader.OpenFile(file);
                    if (!Path.GetFullPath(reader.PathOf(file)).StartsWith(Path.GetFullPath(_folder) + Path.DirectorySeparatorChar, StringComparison.Ordinal)) throw new FuzzFailureException($"'{file.Path}' leads out of the survey");
                }
                catch (SurveyException)
                {
                    // Gone, or out of the folder.
                }
            }
        }
        catch (SurveyException refusal)
        {
            Require(refusal);
            opened = false;
        }

        try
        {
            using var writer = SurveyFolder.Open(_folder, SurveyAccess.Write, SurveyAuthor.OfAccount());
            if (input[0] == 0 && writer.Entries.Length != _journal.Count(one => one == (byte)'\n')) throw new FuzzFailureException("the document changed the journal");
        }
        catch (SurveyException refusal)
        {
            Require(refusal);
        }

        if (!File.ReadAllBytes(Path.Combine(_folder, "originals/week/week.csv")).AsSpan().SequenceEqual(_original)) throw new FuzzFailureException("an original was changed");
        if (Directory.EnumerateFileSystemEntries(_place).Count() != 1 || Directory.EnumerateFileSystemEntries(Path.Combine(_place, "shelf")).Count() != 1) throw new FuzzFailureException("something appeared beside the folder");
        return opened;
    }

    protected override void Dispose(bool disposing)
    {
        if (Directory.Exists(_place)) Directory.Delete(_place, recursive: true);
        base.Dispose(disposing);
    }

    private static void Require(SurveyException refusal)
    {
        if (refusal.Message.Length < 10) throw new FuzzFailureException("a refusal that says nothing", refusal);
    }
}
