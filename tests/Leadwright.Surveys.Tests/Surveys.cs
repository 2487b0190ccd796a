using System.Text;
using System.Text.Json;
using Leadwright.Surveys.Journal;

namespace Leadwright.Surveys.Tests;

/// <summary>What the tests put into surveys.</summary>
internal static class Surveys
{
    public static SurveyAuthor Author { get; } = new("T. Ester", new FixedClock(new DateTimeOffset(2026, 3, 2, 8, 0, 0, TimeSpan.Zero)));

    public static NewSurvey Sample { get; } = new("Main board, hall 2")
    {
        Id = "20260302-main-board-0a1b2c3d",
        Site = new() { Name = "Invented works", Place = "Hall 2, board 1", Notes = "Key at the gate; Zählerschrank „Süd“" },
        Panel = new() { Service = "wye", Nominal = "230/400", FrequencyHertz = 50, Load = "motors", Rotation = "abc" },
        Plan = new() { Learn = ["peak demand"], Limits = ["en-50160"], Text = "One week." },
    };

    public static IncomingSource Source(string name, string content) => new(name, () => new MemoryStream(Encoding.UTF8.GetBytes(content)));

    public static RecordingImported Facts(string name = "") => new(name, "log", "log-table", []) { Count = 3 };

    public static JsonElement Json(string text) => JsonDocument.Parse(text).RootElement.Clone();

    /// <summary>A clock that stands, or is set.</summary>
    internal sealed class FixedClock(DateTimeOffset now) : TimeProvider
    {
        public DateTimeOffset Now { get; set; } = now;

        public override DateTimeOffset GetUtcNow() => Now;
    }
}
