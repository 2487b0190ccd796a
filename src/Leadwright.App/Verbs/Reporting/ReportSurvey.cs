using System.Collections.Immutable;
using System.Text.Json;
using Leadwright.App.Verbs.Studying;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Documents.Layout;
using Leadwright.Documents.Reports;
using Leadwright.Reports.Hookups;
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
        var said = survey.ReportWords;
        var site = survey.Site.Name.Length > 0 ? survey.Site.Name : survey.Title;
        string[] purpose = [survey.Plan.Text, .. survey.Plan.Learn];
        return request with
        {
            Study = request.Study.Limits.IsEmpty ? request.Study with { Limits = [.. survey.Plan.Limits.Select(StudyVerbOptions.TableOf)] } : request.Study,
            Paper = request.Paper ?? (Word("paper") == "letter" ? PaperSize.Letter : null),
            AccuracyPercent = request.AccuracyPercent > 0 ? request.AccuracyPercent : ReportPlaces.AccuracyOf(Word("accuracy")) ?? 0,
            Naming = request.Naming ?? (ConductorColours.WithId(Word("colours")) is { } scheme ? ConductorNaming.Of(scheme) : null),
            Settings = request.Settings with
            {
                Parts = request.Settings.Parts.IsEmpty ? ReportPlaces.PartsOf(Word(ReportPlaces.Parts)) : request.Settings.Parts,
                Date = request.Settings.Date ?? ReportPlaces.DateOf(Word("date")),
                Letterhead = letterhead with
                {
                    Name = First(letterhead.Name, Word("firm")),
                    Lines = letterhead.Lines.IsEmpty ? ReportPlaces.LinesOf(Word("firm-lines")) : letterhead.Lines,
                    Author = First(letterhead.Author, Word("author")),
                    Number = First(letterhead.Number, Word("number")),
                    Customer = letterhead.Customer.IsEmpty ? ReportPlaces.LinesOf(Word("customer")) : letterhead.Customer,
                    Site = First(letterhead.Site, Word("site"), site),
                    Panel = First(letterhead.Panel, Word("panel"), survey.Site.Place),
                    Purpose = First(letterhead.Purpose, Word("purpose"), string.Join(' ', purpose.Where(line => line.Length > 0))),
                    Instruments = letterhead.Instruments.IsEmpty ? [.. ReportPlaces.LinesOf(Word("instruments")).Select(PairOf)] : letterhead.Instruments,
                },
            },
        };

        string Word(string place) => said.GetValueOrDefault(place, "");
    }

    /// <summary>What stands in a place of the report where nobody wrote anything: what the survey itself says.</summary>
    /// <param name="place">The place.</param>
    /// <param name="survey">The survey.</param>
    public static string Usual(string place, SurveyState survey) => Complete(
        new ReportRequest(new StudyRequest(), new CheckOptions(), new ReportSettings { Program = "" }), survey with { ReportWords = survey.ReportWords.Clear(), Plan = survey.Plan with { Limits = [] } }) is { Settings.Letterhead: var letterhead }
        ? place switch { "site" => letterhead.Site, "panel" => letterhead.Panel, "purpose" => letterhead.Purpose, _ => "" } : "";

    private static string First(params string[] texts) => texts.FirstOrDefault(text => text.Length > 0) ?? "";

    private static (string Label, string Value) PairOf(string line)
    {
        var colon = line.IndexOf(':', StringComparison.Ordinal);
        return colon < 0 ? ("", line) : (line[..colon].Trim(), line[(colon + 1)..].Trim());
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
