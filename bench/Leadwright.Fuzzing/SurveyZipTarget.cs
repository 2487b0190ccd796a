using Leadwright.Surveys;
using Leadwright.Surveys.Shelves;

namespace Leadwright.Fuzzing;

/// <summary>Surveys in zip files.</summary>
/// <remarks>The oracle: taken onto the shelf and sound to open, or refused with nothing left; never anything beside the shelf.</remarks>
internal sealed class SurveyZipTarget : FuzzTarget
{
    private readonly string _place = FuzzPlace.Make();
    private readonly byte[] _seed;

    public SurveyZipTarget()
    {
        var folder = Path.Combine(_place, "made");
        using (var survey = SurveyFolder.Create(folder, new NewSurvey("Fuzzed") { Id = "20260302-fuzzed-0a1b2c3d" }, SurveyAuthor.OfAccount()))
        {
            using var staged = survey.Stage([new IncomingSource("week.csv", () => new MemoryStream("time;V1\n1;230\n"u8.ToArray()))]);
            survey.Import(staged, new Leadwright.Surveys.Journal.RecordingImported("", "log", "log-table", []));
            using var zip = new MemoryStream();
            SurveyZip.Pack(survey, zip);
            _seed = zip.ToArray();
        }

        Directory.Delete(folder, recursive: true);
    }

    public override string Name => "survey-zip";

    public override byte[] Make(Random chance) => FormatTarget.OfZip(_seed, chance);

    public override bool Read(byte[] input)
    {
        var shelf = Path.Combine(_place, "shelf");
        Directory.CreateDirectory(shelf);
        var taken = false;
        try
        {
            var copy = new SurveyShelf(shelf).CopyFromZip(new MemoryStream(input), "f.zip", new ZipLimits { MostBytes = 64 << 20 });
            taken = true;
            if (!Path.GetFullPath(copy.Path).StartsWith(Path.GetFullPath(shelf) + Path.DirectorySeparatorChar, StringComparison.Ordinal)) throw new FuzzFailureException("a survey outside the shelf");
            using var survey = SurveyFolder.Open(copy.Path);
            if (!survey.Faults.IsEmpty) throw new FuzzFailureException("a survey with faults was taken");
        }
        catch (SurveyException refusal)
        {
            if (refusal.Message.Length < 10) throw new FuzzFailureException("a refusal that says nothing", refusal);
            if (!taken && Directory.EnumerateFileSystemEntries(shelf).Any()) throw new FuzzFailureException($"a refusal left {Directory.EnumerateFileSystemEntries(shelf).First()}: {refusal.Message}", refusal);
        }

        if (Directory.EnumerateFileSystemEntries(_place).Count() != 1) throw new FuzzFailureException("something appeared beside the shelf");
        Directory.Delete(shelf, recursive: true);
        return taken;
    }

    protected override void Dispose(bool disposing)
    {
        if (Directory.Exists(_place)) Directory.Delete(_place, recursive: true);
        base.Dispose(disposing);
    }
}
