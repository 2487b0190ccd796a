using System.Text.Json;

namespace Leadwright.Surveys;

/// <summary>A correction of a recording, one layer of its mending.</summary>
/// <param name="Id">Its name in the survey.</param>
/// <param name="Recording">Name of the recording it mends.</param>
/// <param name="Correction">What is mended, as the mending wrote it.</param>
/// <param name="IsOn">True while it counts.</param>
/// <param name="Why">Why it was accepted or switched last.</param>
/// <param name="Who">By whom.</param>
/// <param name="At">When.</param>
public sealed record KeptCorrection(string Id, string Recording, JsonElement Correction, bool IsOn, string Why, string Who, DateTimeOffset At);
