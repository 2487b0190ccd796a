using System.CommandLine;
using Leadwright.Surveys;

namespace Leadwright.App.Verbs.Surveying;

/// <summary>The options that say what a survey is: title, site, panel, plan.</summary>
internal sealed class SurveyOptions
{
    private readonly RecordingOptions _recording = new("not stated.");
    private readonly SiteOptions _site = new();
    private readonly Option<string?> _title = Text("--title", "Title of the survey.", "TEXT");
    private readonly Option<string?> _name = Text("--site", "Name of the site.", "TEXT");
    private readonly Option<string?> _place = Text("--place", "The place: address, building, board.", "TEXT");
    private readonly Option<string?> _notes = Text("--notes", "Whatever else is worth keeping.", "TEXT");
    private readonly Option<string?> _plan = Text("--plan", "The plan, in your own words.", "TEXT");
    private readonly Option<string[]> _learn = new("--learn") { Description = "What is to be learned; may be repeated.", HelpName = "TEXT", DefaultValueFactory = _ => [] };
    private readonly Option<string[]> _limits = new("--limits") { Description = "The limits that are wanted, such as en-50160; may be repeated.", HelpName = "NAME", DefaultValueFactory = _ => [] };

    public void AddTo(Command command)
    {
        foreach (var option in (Option[])[_title, _name, _place, _notes, .. _recording.OfPanel, .. _site.All, _learn, _limits, _plan]) command.Add(option);
    }

    /// <summary>A new survey.</summary>
    /// <param name="parsed">What was said.</param>
    /// <param name="folder">Its folder, whose name is the title when none is given.</param>
    public NewSurvey NewOf(ParseResult parsed, string folder) => new(parsed.GetValue(_title) ?? Path.GetFileName(Path.TrimEndingDirectorySeparator(Path.GetFullPath(folder))))
    {
        Site = SiteOf(parsed, new()),
        Panel = PanelOf(parsed, new()),
        Plan = PlanOf(parsed, new()),
    };

    public string TitleOf(ParseResult parsed, string before) => parsed.GetValue(_title) ?? before;

    public SurveySite SiteOf(ParseResult parsed, SurveySite before) => new()
    {
        Name = parsed.GetValue(_name) ?? before.Name,
        Place = parsed.GetValue(_place) ?? before.Place,
        Notes = parsed.GetValue(_notes) ?? before.Notes,
    };

    public SurveyPanel PanelOf(ParseResult parsed, SurveyPanel before)
    {
        var request = _recording.RequestOf(parsed);
        var panel = before with
        {
            Service = request.Service?.Name ?? before.Service,
            Nominal = request.Nominal ?? before.Nominal,
            FrequencyHertz = request.FrequencyHertz ?? before.FrequencyHertz,
            Load = _site.LoadWord(parsed) ?? before.Load,
            MayExport = _site.ExportSaid(parsed) ?? before.MayExport,
            Rotation = _site.RotationWord(parsed) ?? before.Rotation,
        };
        // A nominal voltage that is none is refused now, and not when the survey is worked on.
        _ = NominalText.Parse(panel.Nominal, panel.KnownService()?.Kind);
        return panel;
    }

    public SurveyPlan PlanOf(ParseResult parsed, SurveyPlan before) => new()
    {
        Learn = parsed.GetValue(_learn) is { Length: > 0 } learn ? [.. learn] : before.Learn,
        Limits = parsed.GetValue(_limits) is { Length: > 0 } limits ? [.. limits] : before.Limits,
        Text = parsed.GetValue(_plan) ?? before.Text,
    };

    public static Option<string?> Text(string name, string description, string help) => new(name) { Description = description, HelpName = help };
}
