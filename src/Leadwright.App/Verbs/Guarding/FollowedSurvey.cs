using Leadwright.App.Verbs.Surveying;
using Leadwright.Surveys;

namespace Leadwright.App.Verbs.Guarding;

/// <summary>Logs that are added to a survey while it is watched: each is taken once, those that are there already first.</summary>
/// <param name="folder">The survey's folder; it is open to read only, so that others go on writing.</param>
internal sealed class FollowedSurvey(string folder) : IDisposable
{
    private readonly SurveyFolder _survey = SurveyRun.Refusing(() => SurveyFolder.Open(folder));
    private readonly HashSet<long> _taken = [];
    private bool _isFirst = true;

    /// <summary>What a request says of the panel, completed by the survey.</summary>
    /// <param name="request">The request.</param>
    /// <param name="panel">The survey's panel.</param>
    public static RecordingRequest Completed(RecordingRequest request, SurveyPanel panel) => request with
    {
        Service = request.Service ?? panel.KnownService(), Nominal = request.Nominal ?? panel.Nominal, FrequencyHertz = request.FrequencyHertz ?? panel.FrequencyHertz,
    };

    /// <summary>The logs that were added since the last look.</summary>
    /// <param name="refuse">Is told of a recording that can't be used.</param>
    public IReadOnlyList<SurveyInput> Added(Action<InputRefusedException> refuse)
    {
        if (!SurveyRun.Refusing(_survey.Refresh) && !_isFirst) return [];
        _isFirst = false;
        var added = new List<SurveyInput>();
        foreach (var recording in _survey.State.WorkRecordings.Where(recording => recording.Facts.Kind == "log" && !_taken.Contains(recording.Entry)).ToList())
        {
            _taken.Add(recording.Entry);
            added.AddRange(SurveyInput.Of([folder], recording.Name, refuse, "log"));
        }

        return added;
    }

    public void Dispose() => _survey.Dispose();
}
