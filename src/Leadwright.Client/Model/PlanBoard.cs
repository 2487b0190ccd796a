using Leadwright.Client.Devices;
using Leadwright.Core.Circuits;
using Leadwright.Core.Planning;
using Leadwright.Reports.Hookups;

namespace Leadwright.Client.Model;

/// <summary>The plan screen without its looks: the draft and the plan that it makes.</summary>
/// <param name="device">Keeps the draft.</param>
public sealed class PlanBoard(IDevice device)
{
    private const string KeptName = "leadwright.plan";
    private bool _isOpen;

    /// <summary>What was chosen and typed.</summary>
    public PlanDraft Draft { get; private set; } = new();

    /// <summary>The plan worked out; null while something is missing.</summary>
    public PlanSheet? Sheet { get; private set; }

    /// <summary>What is missing; empty when the plan is there.</summary>
    public string Wanted { get; private set; } = "Choose the service first.";

    /// <summary>How the site's conductors are called and coloured.</summary>
    public ConductorNaming Naming => ConductorNaming.Of(SiteColours.SchemeOf(Draft.ColourSchemeId));

    /// <summary>What was kept for a survey last: the same is not kept twice.</summary>
    public string KeptContent { get; set; } = "";

    /// <summary>Takes up what the device kept.</summary>
    public async Task OpenAsync()
    {
        if (_isOpen) return;
        _isOpen = true;
        if (PlanDraft.OfKept(await device.RecallAsync(KeptName)) is { } kept) Draft = kept;
        Make();
    }

    /// <summary>Changes the draft and works the plan out anew.</summary>
    /// <param name="draft">The new draft.</param>
    public async Task ChangeAsync(PlanDraft draft)
    {
        ArgumentNullException.ThrowIfNull(draft);
        Draft = draft;
        Make();
        await device.KeepAsync(KeptName, draft.ToKept());
    }

    /// <summary>Chooses the service; a nominal voltage that does not belong to it is forgotten.</summary>
    /// <param name="service">The service.</param>
    public Task ChooseServiceAsync(ServiceKind service)
    {
        var keeps = NominalVoltage.TryParse(Draft.Nominal.Replace(',', '.'), service, out _);
        return ChangeAsync(Draft with { Service = service, Nominal = keeps ? Draft.Nominal : "" });
    }

    private void Make()
    {
        Sheet = Draft.ToPlan() is { } plan ? PlanMaker.Of(plan) : null;
        Wanted = Sheet is not null ? ""
            : Draft.Service is null ? "Choose the service first."
            : Draft.NominalVolts is null ? "State the nominal voltage of the service."
            : Draft.Purposes.IsEmpty ? "Say what is to be learnt."
            : "A figure that was typed can't be used: look at the marked fields.";
    }
}
