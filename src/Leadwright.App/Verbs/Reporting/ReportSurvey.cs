using System.Collections.Immutable;
using System.Text.Json;
using Leadwright.App.Verbs.Studying;
using Leadwright.Documents.Reports;
using Leadwright.Surveys;

namespace Leadwright.App.Verbs.Reporting;

/// <summary>What a survey's folder adds to a report: the site, the plan, the proofs that were kept at the panel.</summary>
internal static class ReportSurvey
{
    /// <summary>A request with what the survey says where neither the command line nor the letterhead says anything.</summary>
    /// <param name="request">What was asked.</param>
    /// <param name="survey">The survey; null for a file as named.</param>
    public static ReportRequest Complete(ReportRequest request, SurveyState? survey)
    {
        if (survey is null) return request;
        var letterhead = request.Settings.Letterhead;
        var site = survey.Site.Name.Length > 0 ? survey.Site.Name : survey.Title;
        string[] purpose = [survey.Plan.Text, .. survey.Plan.Learn];
        return request with
        {
            Study = request.Study.Limits.IsEmpty ? request.Study with { Limits = [.. survey.Plan.Limits.Select(StudyVerbOptions.TableOf)] } : request.Study,
            Settings = request.Settings with
            {
                Letterhead = letterhead with
                {
                    Site = letterhead.Site.Length > 0 ? letterhead.Site : site,
                    Panel = letterhead.Panel.Length > 0 ? letterhead.Panel : survey.Site.Place,
                    Purpose = letterhead.Purpose.Length > 0 ? letterhead.Purpose : string.Join(' ', purpose.Where(line => line.Length > 0)),
                },
            },
        };
    }

    /// <summary>The subject with the proofs that the survey keeps, once its files are seen to be those that were imported.</summary>
    /// <param name="subject">The subject.</param>
    /// <param name="path">The recording's file in the folder.</param>
    /// <param name="survey">The survey; null for a file as named.</param>
    /// <exception cref="InputRefusedException">A file is no longer the one that was imported.</exception>
    public static ReportSubject WithProofs(ReportSubject subject, string path, SurveyState? survey)
    {
        if (survey is null) return subject;
        var whole = path.Replace('\\', '/');
        var recording = survey.WorkRecordings.FirstOrDefault(one => one.Files.Any(file => whole.EndsWith(file.Path, StringComparison.Ordinal)));
        foreach (var stored in recording?.Files ?? [])
        {
            var name = Path.GetFileName(stored.Path);
            if (subject.Files.FirstOrDefault(file => file.Name == name) is { } found && found.Sha256 != stored.Sha256)
                throw new InputRefusedException(ExitCode.InputUnusable, $"Cannot report on '{path}': it is not the file that was imported (SHA-256 {stored.Sha256}). Look into it with: leadwright survey check");
        }

        return subject with { Proofs = [.. survey.Proofs.Select(ProofOf)] };
    }

    /// <summary>A proof as documents print it.</summary>
    public static PanelProof ProofOf(KeptProof proof)
    {
        var verdict = proof.Verdict;
        var faults = verdict.ValueKind == JsonValueKind.Object && verdict.TryGetProperty("faults", out var list) && list.ValueKind == JsonValueKind.Array
            ? list.EnumerateArray().Select(fault => Text(fault, "says") is { Length: > 0 } says ? says : Text(fault, "remedy")).Where(says => says.Length > 0).ToImmutableArray() : [];
        var confidence = verdict.ValueKind == JsonValueKind.Object && verdict.TryGetProperty("confidence", out var number) && number.TryGetDouble(out var value) ? value : double.NaN;
        return new PanelProof(proof.At, proof.Who, Text(verdict, "verdict"), confidence, faults);
    }

    private static string Text(JsonElement element, string name) =>
        element.ValueKind == JsonValueKind.Object && element.TryGetProperty(name, out var value) && value.ValueKind == JsonValueKind.String ? value.GetString()! : "";
}
