using Leadwright.Core.Circuits;
using Leadwright.Core.Panels.Weeks;
using Leadwright.Formats.Logs;
using Leadwright.Surveys;

namespace Leadwright.App.Hosting.Surveys;

/// <summary>The survey to try things out with: a workshop that exists only in numbers, and a week of its recording with things gone wrong.</summary>
/// <remarks>The same numbers every time: it is drawn from a fixed seed. It comes into the folder of surveys through the ordinary import.</remarks>
internal static class DemoSurvey
{
    /// <summary>Its name.</summary>
    public const string Id = "invented-workshop";

    private const double Day = 86400;
    private const double Hour = 3600;

    private const string Invented = "An invented site.";

    /// <summary>True for it and for copies of it.</summary>
    public static bool IsOne(SurveySite site) => site.Notes.StartsWith(Invented, StringComparison.Ordinal);

    /// <summary>The week: from its first interval clamp I2 faces the source; on Wednesday at 13:10 lead V3 falls off; on Friday in the night the supply is gone for an hour
    /// and a half.</summary>
    public static WeekRecipe Recipe
    {
        get
        {
            NominalVoltage.TryParse("230/400", ServiceKind.Wye, out var nominal);
            return new WeekRecipe
            {
                Service = ServiceKind.Wye,
                Nominal = nominal!,
                Hertz = 50,
                Site = SiteKind.Workshop,
                Seed = 20260302,
                IntervalSeconds = 60,
                Mishaps =
                [
                    new Mishap(MishapKind.ClampReversed, 0, 7 * Day, 1),
                    new Mishap(MishapKind.LeadOff, (2 * Day) + (13 * Hour) + 600, 7 * Day, 2) { Size = 0.03, Detail = 40 },
                    new Mishap(MishapKind.Outage, (4 * Day) + (2 * Hour) + 840, (4 * Day) + (3 * Hour) + 2460),
                ],
            };
        }
    }

    /// <summary>The welder that flickers: forty changes of 1.1 % a minute on line A while the workshop works.</summary>
    public static FlickerSource Welder { get; } = new(0, 40, 1.1, 7, 15.5);

    /// <summary>Makes it, unless it is there.</summary>
    /// <param name="surveys">The surveys.</param>
    /// <param name="cancellation">Stops it.</param>
    /// <exception cref="SurveyException">It can't be saved.</exception>
    public static async Task MakeAsync(ServedSurveys surveys, CancellationToken cancellation)
    {
        if (surveys.Has(Id)) return;
        var week = VirtualWeek.Make(Recipe);
        var folder = Directory.CreateTempSubdirectory("leadwright-demo-");
        try
        {
            var (path, voltage) = (Path.Combine(folder.FullName, "workshop-week.csv"), Path.Combine(folder.FullName, "workshop-voltage.csv"));
            await using (var stream = new FileStream(path, FileMode.CreateNew, FileAccess.ReadWrite)) await LogWriter.WriteCsvAsync(week.Log, stream, cancellation: cancellation);
            await using (var stream = new FileStream(voltage, FileMode.CreateNew, FileAccess.ReadWrite))
                await LogWriter.WriteCsvAsync(FlickerWeek.Table(week, Welder), stream, cancellation: cancellation);
            surveys.Make(new NewSurvey("Workshop, main board")
            {
                Id = Id,
                Site = new SurveySite
                {
                    Name = "Workshop, main board",
                    Notes = Invented + " Its week was computed, with a clamp the wrong way round, a lead that falls off, an outage and a welder that flickers.",
                },
                Panel = new SurveyPanel { Service = "wye", Nominal = "230/400", FrequencyHertz = 50, Load = "motors" },
                Plan = new SurveyPlan { Limits = ["en-50160"] },
            });
            using var work = new SurveyWork("Making the invented survey");
            // As a recorder writes them: a table of voltage quality by ten minutes, and the log. The log is looked at first, since it comes last.
            await surveys.WriteAsync(Id, survey => SurveyImport.ImportAsync(survey, [voltage], new(), work, cancellation), cancellation);
            await surveys.WriteAsync(Id, survey => SurveyImport.ImportAsync(survey, [path], new(), work, cancellation), cancellation);
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }
}
