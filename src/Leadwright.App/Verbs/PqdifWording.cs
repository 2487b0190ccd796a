namespace Leadwright.App.Verbs;

/// <summary>What is said of PQDIF files, which may hold several recordings.</summary>
internal static class PqdifWording
{
    /// <summary>Says that one recording of several is used.</summary>
    /// <param name="count">How many there are.</param>
    public static string OtherRecordings(int count) =>
        FormattableString.Invariant($"The file holds {count} recordings of different channels, rates or times: the longest is used.");
}
