using System.Globalization;
using System.Text.Json;
using Leadwright.App.Verbs.Surveying;
using Leadwright.Client.Surveys;
using Leadwright.Core.Hookups.Settling;
using Leadwright.Reports.Hookups;
using Leadwright.Surveys;
using Leadwright.Surveys.Journal;
using DepartingItem = Leadwright.Client.Surveys.DepartingItem;

namespace Leadwright.App.Hosting.Surveys;

/// <summary>What was done at the panel, as the screens see it: checks of the hook-up, photos, the check before leaving.</summary>
internal static class SurveyPanelDesk
{
    private const string CheckSchema = "leadwright.check/1";
    private const string ReadingsSchema = "leadwright.readings/1";
    private const int MostCaption = 300;

    /// <summary>The check before leaving.</summary>
    public static DepartingSheet DepartingOf(SurveyFolder survey) => new()
    {
        Sequence = survey.State.LastEntry,
        Items = [.. DepartingItems.Of(survey.State.Panel).Select(item => new DepartingItem(item.Key, item.Text, item.Hint))],
        Signed = [.. survey.Entries.Where(entry => entry.Payload is DepartureSigned).Reverse().Select(entry => SignedOf(entry.At, entry.Who, (DepartureSigned)entry.Payload))],
    };

    /// <summary>The check before leaving as it was signed last; null when it never was.</summary>
    public static DepartingSigned? LastOf(SurveyState state) => state.Departure is { } kept ? SignedOf(kept.At, kept.Who, new DepartureSigned(kept.Items, kept.Note)) : null;

    /// <summary>Signs the check before leaving.</summary>
    /// <param name="survey">The survey, open to write.</param>
    /// <param name="signature">The answers.</param>
    /// <returns>What is wrong with it; empty when it was signed.</returns>
    public static (int Status, string Problem) Sign(SurveyFolder survey, DepartingSign signature)
    {
        if (survey.Entries.LastOrDefault(entry => entry.Number > signature.Sequence && entry.Payload is DepartureSigned) is { } other)
            return (StatusCodes.Status409Conflict, string.Create(CultureInfo.InvariantCulture, $"{other.Who} signed this check meanwhile ({other.At:HH:mm} UTC). Look at it, and sign again where it is to be changed. What you answered is still on the screen."));
        var items = DepartingItems.Of(survey.State.Panel);
        var answers = signature.Answers.GroupBy(answer => answer.Key, StringComparer.Ordinal)
            .ToDictionary(group => group.Key, group => (group.Last().Answer, group.Last().Remark.Trim()), StringComparer.Ordinal);
        var who = signature.Who.Trim();
        if (DepartingItems.Problem(items, answers, who, signature.Note.Trim()) is { Length: > 0 } problem) return (StatusCodes.Status400BadRequest, problem);
        survey.Append(DepartingItems.Signed(items, answers, signature.Note.Trim()), "", who);
        return (0, "");
    }

    /// <summary>The checks of the hook-up, what was told and the photos.</summary>
    public static HookupsSheet HookupsOf(SurveyFolder survey) => new()
    {
        Sequence = survey.State.LastEntry,
        MostPhotoBytes = PhotoFile.MostBytes,
        Checks = [.. survey.State.Proofs.Reverse().Select(CardOf)],
        Told = [.. survey.State.Told.Select(TextOfTold)],
        Photos = [.. survey.State.Photos.Reverse().Select(photo => CardOf(survey, photo))],
    };

    /// <summary>Keeps a check of the hook-up, and what was found at the panel for it.</summary>
    /// <param name="survey">The survey, open to write.</param>
    /// <param name="check">The check.</param>
    /// <returns>What is wrong with it; empty when it was kept.</returns>
    public static (int Status, string Problem) Keep(SurveyFolder survey, HookupKeep check)
    {
        if (DeviceMark.IsThere(survey, check.Id)) return (0, "");
        if (Text(check.Verdict, "schema") != CheckSchema || Text(check.Verdict, "verdict").Length == 0)
            return (StatusCodes.Status400BadRequest, "That is no verdict of this program. Check the hook-up again, and keep it then.");
        if (check.Readings is { } readings && Text(readings, "schema") != ReadingsSchema) return (StatusCodes.Status400BadRequest, "The readings can't be kept: they are not in the form of this program. Load the page again.");
        foreach (var told in check.Told)
        {
            if (!ToldAnswer.TryParse(told, out _, out var problem)) return (StatusCodes.Status400BadRequest, problem!);
        }

        // The number goes with the last entry: half of it in the journal is done again, and never taken for the whole.
        if (!check.Told.SequenceEqual(survey.State.Told)) survey.Append(new AnswersTold(check.Told));
        survey.Append(new HookupProved(check.Verdict, check.Readings), DeviceMark.Of(check.Id, check.Made));
        return (0, "");
    }

    /// <summary>Attaches a photo, once its bytes are seen to be those of a picture.</summary>
    /// <param name="survey">The survey, open to write.</param>
    /// <param name="path">The file.</param>
    /// <param name="caption">What it shows.</param>
    /// <param name="cancellation">Ends it; nothing is attached then.</param>
    /// <exception cref="SurveyException">It is no picture, or too large.</exception>
    public static void Attach(SurveyFolder survey, string path, string caption, CancellationToken cancellation)
    {
        var name = Path.GetFileName(path);
        var length = new FileInfo(path).Length;
        if (length > PhotoFile.MostBytes)
            throw Refused(string.Create(CultureInfo.InvariantCulture, $"'{name}' has {length >> 20} MB; {PhotoFile.MostBytes >> 20} MB are taken. Take the photo with fewer pixels, or attach it with: leadwright survey attach"));
        Span<byte> head = stackalloc byte[16];
        using (var file = File.OpenRead(path)) head = head[..file.ReadAtLeast(head, head.Length, throwOnEndOfStream: false)];
        if (PhotoFile.TypeOf(head) is null) throw Refused($"'{name}' is no photo by its bytes: JPEG, PNG and WebP are taken. Nothing was attached.");
        if (caption.Length > MostCaption) throw Refused(string.Create(CultureInfo.InvariantCulture, $"The caption has {caption.Length} letters; {MostCaption} are taken."));
        using var staged = survey.Stage([IncomingSource.OfFile(path)], null, cancellation);
        survey.Attach(staged, caption.Trim(), survey.State.Proofs is [.., var last] ? last.Entry : null);
    }

    /// <summary>A photo that is kept, with its media type; null when there is none of that number.</summary>
    public static (Stream Bytes, string Type)? PhotoOf(SurveyFolder survey, long entry)
    {
        if (survey.State.Photos.FirstOrDefault(photo => photo.Entry == entry) is not { } found) return null;
        var stream = survey.OpenFile(found.File);
        Span<byte> head = stackalloc byte[16];
        var type = PhotoFile.TypeOf(head[..stream.ReadAtLeast(head, head.Length, throwOnEndOfStream: false)]);
        stream.Position = 0;
        return (stream, type ?? "application/octet-stream");
    }

    private static DepartingSigned SignedOf(DateTimeOffset at, string who, DepartureSigned signed) => new(at, who, signed.Note)
    {
        Answers = [.. signed.Items.Select(item => new DepartingAnswer(item.Key ?? "", item.Answer ?? (item.IsDone ? DepartingItems.Yes : DepartingItems.No), item.Remark ?? "") { Text = item.Text })],
    };

    private static HookupCard CardOf(KeptProof proof) => new(proof.Entry, proof.At, proof.Who, Text(proof.Verdict, "verdict"))
    {
        Judged = proof.Recording ?? (proof.Readings is null ? Text(proof.Verdict, "file") : ""),
        Says = SaysOf(proof.Verdict),
        Confidence = proof.Verdict.ValueKind == JsonValueKind.Object && proof.Verdict.TryGetProperty("confidence", out var share) && share.ValueKind == JsonValueKind.Number ? share.GetDouble() : null,
        Moves = proof.Verdict.ValueKind == JsonValueKind.Object && proof.Verdict.TryGetProperty("faults", out var faults) && faults.ValueKind == JsonValueKind.Array
            ? [.. faults.EnumerateArray().Select(fault => Text(fault, "remedy")).Where(remedy => remedy.Length > 0)] : [],
    };

    private static string SaysOf(JsonElement verdict)
    {
        var faults = verdict.ValueKind == JsonValueKind.Object && verdict.TryGetProperty("faults", out var list) && list.ValueKind == JsonValueKind.Array
            ? string.Join(' ', list.EnumerateArray().Select(fault => Text(fault, "says")).Where(says => says.Length > 0)) : "";
        if (faults.Length > 0) return faults;
        return Text(verdict, "verdict") == "correct" ? "Every lead and clamp was where it belongs." : "More than one hook-up fitted the readings.";
    }

    private static PhotoCard CardOf(SurveyFolder survey, KeptPhoto photo)
    {
        var (isPicture, hasPosition) = (false, false);
        try
        {
            if (photo.File.Bytes <= PhotoFile.MostBytes)
            {
                using var stream = survey.OpenFile(photo.File);
                var bytes = new byte[photo.File.Bytes];
                var got = bytes.AsSpan(0, stream.ReadAtLeast(bytes, bytes.Length, throwOnEndOfStream: false));
                (isPicture, hasPosition) = (PhotoFile.TypeOf(got) is not null, PhotoFile.HasPosition(got));
            }
        }
        catch (SurveyException)
        {
            // One that is gone is told of by the check of the folder; the list is shown all the same.
        }

        return new PhotoCard(photo.Entry, photo.At, photo.File.Name, photo.Caption) { Bytes = photo.File.Bytes, Sha256 = photo.File.Sha256, IsPicture = isPicture, HasPosition = hasPosition };
    }

    private static string TextOfTold(string told) => ToldAnswer.TryParse(told, out var answer, out _) ? SettleWording.Told(answer!) : told;

    private static string Text(JsonElement element, string name) =>
        element.ValueKind == JsonValueKind.Object && element.TryGetProperty(name, out var value) && value.ValueKind == JsonValueKind.String ? value.GetString()! : "";

    private static SurveyException Refused(string message) => new(SurveyProblem.Refused, message);
}
