using Leadwright.Surveys;
using Leadwright.Surveys.Shelves;

namespace Leadwright.App.Verbs.Surveying;

/// <summary>Zip files of surveys on the disk.</summary>
internal static class SurveyPacking
{
    private const string Unfinished = ".unfinished";

    /// <summary>Packs a survey; the file has its name only when it is whole.</summary>
    public static SurveyCopy Pack(string folder, string zip, IProgress<double>? progress, CancellationToken cancellation)
    {
        if (File.Exists(zip)) throw new SurveyException(SurveyProblem.AlreadyThere, $"There is '{zip}' already. Take another name, or delete it first.");
        using var survey = SurveyFolder.Open(folder);
        var draft = zip + Unfinished;
        try
        {
            SurveyCopy copy;
            using (var stream = new FileStream(draft, FileMode.Create, FileAccess.ReadWrite))
            {
                copy = new SurveyCopy(zip, survey.State.Id, SurveyZip.Pack(survey, stream, progress, cancellation), []);
                stream.Flush(flushToDisk: true);
            }

            File.Move(draft, zip);
            return copy;
        }
        finally
        {
            if (File.Exists(draft)) File.Delete(draft);
        }
    }

    /// <summary>Takes a survey out of a zip file.</summary>
    public static SurveyCopy Unpack(string zip, string shelf, IProgress<double>? progress, CancellationToken cancellation)
    {
        FileStream stream;
        try
        {
            stream = new FileStream(zip, FileMode.Open, FileAccess.Read);
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            throw InputRefusedException.CannotRead(zip, failure);
        }

        using (stream) return new SurveyShelf(shelf).CopyFromZip(stream, zip, null, progress, cancellation);
    }
}
