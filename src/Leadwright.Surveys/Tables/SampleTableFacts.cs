namespace Leadwright.Surveys.Tables;

/// <summary>What a table of samples holds.</summary>
/// <param name="Count">Samples of a channel.</param>
/// <param name="RateHertz">Samples a second.</param>
/// <param name="From">Time of the first sample, recorder's clock; null where the recording has no clock.</param>
/// <param name="To">End of the last sample's step; null where the recording has no clock.</param>
/// <param name="StretchCount">Stretches without a gap.</param>
/// <param name="MovedCount">Stretches whose stated time lies before the end of the one before: they follow it at once in the table.</param>
public sealed record SampleTableFacts(long Count, double RateHertz, DateTime? From, DateTime? To, int StretchCount, int MovedCount);
