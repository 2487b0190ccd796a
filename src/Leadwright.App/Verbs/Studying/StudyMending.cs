using Leadwright.App.Hosting.Surveys;
using Leadwright.App.Verbs.Mending;
using Leadwright.App.Verbs.Surveying;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Mending;
using Leadwright.Core.Studies;

namespace Leadwright.App.Verbs.Studying;

/// <summary>Mends a recording of a survey before it is studied, as the survey's screens do.</summary>
internal static class StudyMending
{
    /// <summary>The subject, guarded and mended with the corrections that are on in its survey.</summary>
    /// <param name="subject">What was read. What was measured from samples, was mended before or has nothing to mend is handed back as it is.</param>
    /// <param name="input">Where it comes from. A file that belongs to no survey is studied as it stands.</param>
    /// <param name="request">What is known of the panel.</param>
    /// <param name="cancellation">Stops the work.</param>
    public static StudySubject Mend(StudySubject subject, SurveyInput input, StudyRequest request, CancellationToken cancellation)
    {
        if (input is not { State: { } state, Recording: { } recording } || subject.File is not { Log: { Count: > 0 } log } || !subject.Data.Standings.IsEmpty) return subject;
        var (service, nominal) = (subject.Data.Service, subject.Data.Nominal);
        var guard = IntervalGuard.Judge(
            log, new GuardOptions { Service = service, Nominal = nominal, FrequencyHertz = request.FrequencyHertz, Check = state.Panel.Known() ?? new CheckOptions() }, cancellation);
        var mend = IntervalMender.Mend(
            log, WithdrawnFinding.TakeOut(guard, CorrectionLayers.OffOf(state, recording)), new MendOptions { Service = service, Nominal = nominal }, cancellation);
        if (mend.Corrections.IsEmpty) return subject;
        return subject with { Data = Mended(subject.Data, mend), Corrections = mend.Corrections.Length };
    }

    /// <summary>The values of a mended table. It has rows for the intervals that were missing; flags are carried over by their times.</summary>
    /// <param name="recorded">The values as recorded.</param>
    /// <param name="mend">What the mending gave.</param>
    public static StudyData Mended(StudyData recorded, MendReport mend)
    {
        var flagged = recorded.Flagged;
        if (!flagged.IsEmpty)
        {
            var times = new HashSet<long>();
            for (var row = 0; row < recorded.Log.Count; row++)
            {
                if (flagged.Span[row]) times.Add(recorded.Log.Starts.Span[row]);
            }

            flagged = mend.Log.Starts.ToArray().Select(times.Contains).ToArray();
        }

        return (recorded with { Log = mend.Log, Standings = mend.Standings, Flagged = flagged }).WithPhaseOfSingle();
    }
}
