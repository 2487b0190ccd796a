namespace Leadwright.Core.Hookups.Likelihoods;

/// <summary>One way to read the numbers, with its prior.</summary>
/// <param name="LagPositive">Angles count lagging as positive.</param>
/// <param name="OwnVoltage">Current angles are from each phase's own voltage.</param>
/// <param name="LoadNegative">Power to the load is shown negative.</param>
/// <param name="LogPrior">Natural logarithm of the prior probability.</param>
internal readonly record struct Convention(bool LagPositive, bool OwnVoltage, bool LoadNegative, double LogPrior);
