using System.Globalization;
using System.Text;
using System.Text.Json;
using Leadwright.Core.Logs;
using Leadwright.Surveys;
using Leadwright.Surveys.Importing;
using Leadwright.Surveys.Journal;
using Leadwright.Surveys.Tables;

// Works on a survey until it is killed, and says on standard output what was saved: the number and kind of each entry, after the store said so.
var folder = args[0];
var chance = new Random(int.Parse(args[1], CultureInfo.InvariantCulture));
var author = new SurveyAuthor("killed writer", TimeProvider.System);
using var output = new StreamWriter(Console.OpenStandardOutput(), new UTF8Encoding(false)) { AutoFlush = true, NewLine = "\n" };
output.WriteLine("ready");
var survey = SurveyFolder.IsSurvey(folder) ? SurveyFolder.Open(folder, SurveyAccess.Write, author) : SurveyFolder.Create(folder, new NewSurvey("Killed again and again"), author);
var told = survey.State.LastEntry == 1 ? 0 : survey.State.LastEntry;
while (true)
{
    // Everything that came since, in one go with its number: what is told was saved.
    foreach (var entry in survey.Entries.Where(entry => entry.Number > told))
    {
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{entry.Number} {entry.What}"));
        told = entry.Number;
    }

    switch (chance.Next(25))
    {
        case < 6:
            var bytes = new byte[chance.Next(1, 200_000)];
            chance.NextBytes(bytes);
            using (var staged = survey.Stage([new IncomingSource("samples.cfg", () => new MemoryStream(bytes)), new IncomingSource("samples.dat", () => new MemoryStream(bytes, 0, bytes.Length / 2))]))
                survey.Import(staged, new RecordingImported("", "samples", "comtrade-configuration", []));
            break;
        case < 10:
            using (var staged = survey.Stage([new IncomingSource("board.jpg", () => new MemoryStream(new byte[10_000]))])) survey.Attach(staged, "The board");
            break;
        // A whole import with its table; rare, since a new process takes long to get ready for it.
        case 10:
            var rows = string.Concat(Enumerable.Range(0, 200).Select(row => string.Create(CultureInfo.InvariantCulture, $"2026-03-02 {row / 60:00}:{row % 60:00}:00;{230 + chance.NextDouble():0.00};{40 + chance.NextDouble():0.00}\n")));
            await new RecordingImport(survey).ImportAsync(
                [new IncomingSource("week.csv", () => new MemoryStream(Encoding.UTF8.GetBytes("time;V1 (V);I1 (A)\n" + rows)))], new ImportOptions { ScansIntegrity = false });
            break;
        // Mending: the layer is accepted or switched, and the mended table is written anew in its place.
        case 11 or 12:
            var mended = $"c{chance.Next(3)}";
            if (survey.State.Corrections.FirstOrDefault(correction => correction.Id == mended) is { } layer) survey.Append(new CorrectionSwitched(mended, !layer.IsOn), "to be killed");
            else using (var clamp = JsonDocument.Parse("{\"kind\":\"clamp-reversed\"}")) survey.Append(new CorrectionAccepted(mended, "week", clamp.RootElement.Clone()), "to be killed");
            await SurveyTables.WriteLogAsync(folder, survey.State.Id, InventedLog(chance), new TableWriteOptions { Table = new TableName("mended", 0) });
            break;
        case < 17:
            using (var document = JsonDocument.Parse("{\"schema\":\"leadwright.guard/1\",\"filler\":\"" + new string('x', chance.Next(1, 60_000)) + "\"}"))
                survey.Append(new HookupProved(document.RootElement.Clone()));
            break;
        case < 22:
            survey.Append(new PlanChanged(new() { Text = new string('p', chance.Next(1, 2000)) }), "to be killed");
            break;
        default:
            // Closing and opening again is a step like any other.
            survey.Dispose();
            survey = SurveyFolder.Open(folder, SurveyAccess.Write, author);
            break;
    }
}

static IntervalLog InventedLog(Random chance)
{
    const int Rows = 300;
    var start = new DateTime(2026, 3, 2, 0, 0, 0, DateTimeKind.Unspecified).Ticks;
    return new IntervalLog(
        [new LogColumn("P", LogQuantity.ActivePower, LogPlace.Whole)], [.. Enumerable.Range(0, Rows).Select(row => start + (row * TimeSpan.TicksPerMinute))],
        [[.. Enumerable.Range(0, Rows).Select(_ => 1000 * chance.NextDouble())]], 60);
}
