using System.Globalization;
using Leadwright.StoredTables;

// Usage: [--rows 1000000] [--columns 200] [--surveys 1000] [--folder DIR] [--write FILE]; or --week FILE.parquet [--rows 3024000]; or --answers FILE.parquet --study STUDY.json. The folder is made and deleted again.
if (Text("--week") is { } week)
{
    // An invented week of 10-cycle windows for the speed of study.
    await WeekTable.WriteAsync(week, Number("--rows", 3_024_000), 1);
    return 0;
}

if (Text("--answers") is { } table) return WeekAnswers.Compare(table, Text("--study")!, Console.Out);
var (rows, columns, surveys, samples) = (Number("--rows", 1_000_000), Number("--columns", 200), Number("--surveys", 1000), Number("--samples", 20_000_000));
var folder = Text("--folder") ?? Path.Combine(Path.GetTempPath(), "leadwright-survey-tables");
if (Directory.Exists(folder))
{
    Console.Error.WriteLine($"'{folder}' is there already. Name another with --folder: it is deleted at the end.");
    return 1;
}

try
{
    var page = new StringWriter(CultureInfo.InvariantCulture);
    if (samples > 0) await new SampleSpeed(Path.Combine(folder, "samples"), samples, page).RunAsync();
    if (rows > 0) await new TableSpeed(Path.Combine(folder, "one"), rows, columns, page).RunAsync();
    if (surveys > 0) await new ManySurveys(Path.Combine(folder, "many"), surveys, page).RunAsync();
    Console.Write(page);
    if (Text("--write") is { } path) await File.WriteAllTextAsync(path, page.ToString());
    return 0;
}
finally
{
    if (Directory.Exists(folder)) Directory.Delete(folder, recursive: true);
}

string? Text(string name) => Array.IndexOf(args, name) is >= 0 and var at && at + 1 < args.Length ? args[at + 1] : null;

int Number(string name, int usual) => Text(name) is { } text ? int.Parse(text, CultureInfo.InvariantCulture) : usual;
