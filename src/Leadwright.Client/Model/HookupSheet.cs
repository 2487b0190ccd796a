using Leadwright.Client.Devices;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Settling;
using Leadwright.Reports.Hookups;

namespace Leadwright.Client.Model;

/// <summary>The hook-up screen without its looks: the draft, what can be read of it, and the verdict.</summary>
/// <param name="device">Keeps the draft.</param>
/// <param name="judge">Makes the verdict.</param>
/// <param name="clock">Times it.</param>
public sealed class HookupSheet(IDevice device, HookupJudge judge, TimeProvider clock)
{
    private const string KeptName = "leadwright.hook-up";
    private bool _isOpen;

    /// <summary>What was told so far.</summary>
    public HookupDraft Draft { get; private set; } = new();

    /// <summary>The draft read as numbers.</summary>
    public DraftReading Reading { get; private set; } = DraftReading.Of(new());

    /// <summary>The recording that the readings come from; null when they are typed.</summary>
    public LoadedRecording? Recording { get; private set; }

    /// <summary>The verdict on the readings as they stand; null while there is none.</summary>
    public HookupAnswer? Answer { get; private set; }

    /// <summary>Why there is no verdict; empty when there is one.</summary>
    public string Wanted { get; private set; } = "";

    /// <summary>How long the last check took on this device; zero before the first.</summary>
    public TimeSpan LastTook { get; private set; }

    /// <summary>True when something changed since the last verdict.</summary>
    public bool IsStale { get; private set; }

    /// <summary>What was kept for a survey last: the same is not kept twice.</summary>
    public string KeptContent { get; set; } = "";

    /// <summary>Takes up the draft that the device kept.</summary>
    public async Task OpenAsync()
    {
        if (_isOpen) return;
        _isOpen = true;
        if (DraftText.Read(await device.RecallAsync(KeptName)) is { } kept) Draft = kept;
        Judge();
    }

    /// <summary>Changes the draft. The verdict is stale until <see cref="Judge"/>.</summary>
    /// <param name="draft">The new draft.</param>
    public async Task ChangeAsync(HookupDraft draft)
    {
        ArgumentNullException.ThrowIfNull(draft);
        Draft = draft;
        Reading = DraftReading.Of(draft);
        IsStale = true;
        await device.KeepAsync(KeptName, DraftText.Write(draft));
    }

    /// <summary>Chooses the service; a nominal voltage that does not belong to it is forgotten.</summary>
    /// <param name="service">The service.</param>
    public Task ChooseServiceAsync(ServiceKind service)
    {
        Recording = Recording?.MatchedFor(service);
        var keepsNominal = NominalVoltage.TryParse(Draft.Nominal.Replace(',', '.'), service, out _);
        return ChangeAsync(Draft with { Service = service, Nominal = keepsNominal ? Draft.Nominal : "" });
    }

    /// <summary>Takes what is typed into a field.</summary>
    /// <param name="key">The field's key.</param>
    /// <param name="text">The text.</param>
    public Task TypeAsync(string key, string text) => ChangeAsync(Draft.WithText(key, text));

    /// <summary>Changes the sign of a field.</summary>
    /// <param name="key">The field's key.</param>
    public Task ChangeSignAsync(string key) => TypeAsync(key, DecimalText.WithOtherSign(Draft.TextOf(key)));

    /// <summary>Takes readings from elsewhere in place of the draft; what is known of the site's colours stays.</summary>
    /// <param name="readings">The readings.</param>
    /// <param name="options">What is known of the site; null keeps what the draft says.</param>
    /// <param name="origin">Where they come from.</param>
    /// <param name="isInvented">True for an invented panel.</param>
    public Task TakeAsync(PanelReadings readings, CheckOptions? options, string origin, bool isInvented)
    {
        Recording = null;
        return ChangeAsync(ReadingsDraft.Of(readings, options ?? DraftReading.OptionsOf(Draft) with { Told = [] }) with
        {
            ColourSchemeId = Draft.ColourSchemeId,
            Origin = origin,
            IsInvented = isInvented,
        });
    }

    /// <summary>Takes what was found in a file.</summary>
    /// <param name="opened">What was found; without a problem.</param>
    public Task TakeAsync(OpenedFile opened)
    {
        ArgumentNullException.ThrowIfNull(opened);
        if (opened.Readings is { } readings)
        {
            Recording = null;
            return ChangeAsync(ReadingsDraft.Of(readings, DraftReading.OptionsOf(Draft) with { Told = opened.Told }) with
            {
                ColourSchemeId = Draft.ColourSchemeId,
                Origin = opened.Name,
                Remarks = opened.Remarks,
            });
        }

        return TakeAsync(Draft.Service is { } service ? opened.Recording?.MatchedFor(service) : opened.Recording);
    }

    /// <summary>Takes a recording, or another match of its channels; null goes back to typed readings.</summary>
    /// <param name="recording">The recording.</param>
    public Task TakeAsync(LoadedRecording? recording)
    {
        Recording = recording;
        var isSame = recording is not null && recording.Name == Draft.Origin;
        return ChangeAsync(Draft with
        {
            Origin = recording?.Name ?? "",
            IsInvented = false,
            Remarks = [],
            Told = isSame ? Draft.Told : [],
        });
    }

    /// <summary>Takes what was found at the panel; an earlier answer to the same action goes.</summary>
    /// <param name="told">What was found.</param>
    public Task TellAsync(ToldAnswer told)
    {
        ArgumentNullException.ThrowIfNull(told);
        return ChangeAsync(Draft with { Told = [.. Without(told.Action), told.ToString()] });
    }

    /// <summary>Withdraws what was told.</summary>
    /// <param name="told">The answer.</param>
    public Task WithdrawAsync(ToldAnswer told)
    {
        ArgumentNullException.ThrowIfNull(told);
        return ChangeAsync(Draft with { Told = [.. Without(told.Action)] });
    }

    /// <summary>Forgets the readings; what was said of the site stays.</summary>
    public Task ClearAsync()
    {
        Recording = null;
        return ChangeAsync(Draft with { Texts = Draft.Texts.Clear(), Origin = "", IsInvented = false, Remarks = [], Told = [] });
    }

    /// <summary>Judges the readings as they stand.</summary>
    public void Judge()
    {
        IsStale = false;
        Reading = DraftReading.Of(Draft);
        var measured = Measured();
        Wanted = measured.Refusal;
        if (measured.Readings is not { } readings)
        {
            Answer = null;
            return;
        }

        var naming = ConductorNaming.Of(SiteColours.SchemeOf(Draft.ColourSchemeId));
        var start = clock.GetTimestamp();
        var verdict = judge(readings, DraftReading.OptionsOf(Draft));
        var took = clock.GetElapsedTime(start);
        LastTook = took;
        var name = Draft.Origin.Length > 0 ? Draft.Origin : "Typed readings";
        var document = CheckDocument.Of(name, verdict, naming, Recording?.MatchedChannels() ?? [], measured.Remarks);
        Answer = new(readings, document, naming, took);
    }

    private IEnumerable<string> Without(SettlingAction action) =>
        Draft.Told.Where(text => !text.StartsWith($"{action.Id}=", StringComparison.Ordinal));

    private MeasuredRecording Measured()
    {
        if (Recording is null || Draft.Service is not { } service) return new(Reading.Readings, Draft.Remarks, Reading.Wanted);
        if (Reading.Errors.GetValueOrDefault(DraftReading.NominalKey) is { } error) return new(null, [], error);
        NominalVoltage.TryParse(Draft.Nominal.Replace(',', '.'), service, out var nominal);
        var measured = Recording.Measure(service, nominal, Draft.FrequencyHertz);
        return Draft.IsServiceOpen && measured.Readings is { } readings
            ? measured with { Readings = readings with { IsServiceOpen = true } }
            : measured;
    }
}
