namespace Leadwright.Surveys.Storage;

/// <summary>Relative paths inside a survey folder.</summary>
internal static class StoredPath
{
    /// <summary>True for a path that stays inside: segments of ordinary names joined by <c>/</c>.</summary>
    public static bool IsInside(string? path)
    {
        if (string.IsNullOrEmpty(path) || path.Length > 1024) return false;
        foreach (var segment in path.Split('/'))
        {
            if (segment.Length == 0 || segment != SafeFileName.Of(segment)) return false;
        }

        return true;
    }

    /// <summary>A path that stays inside.</summary>
    /// <exception cref="SurveyException">It leads elsewhere.</exception>
    public static string Require(string? path) => IsInside(path)
        ? path!
        : throw new SurveyException(SurveyProblem.Refused, $"'{path}' is no place inside a survey folder: it is not opened.");

    public static string FolderOf(string path) => path.LastIndexOf('/') is var slash and >= 0 ? path[..slash] : "";

    public static string NameOf(string path) => path[(path.LastIndexOf('/') + 1)..];
}
