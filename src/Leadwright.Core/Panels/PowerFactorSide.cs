namespace Leadwright.Core.Panels;

/// <summary>Whether a load's current lags or leads its voltage.</summary>
public enum PowerFactorSide
{
    /// <summary>The current lags: inductive. The default.</summary>
    Lagging,

    /// <summary>The current leads: capacitive.</summary>
    Leading,
}
