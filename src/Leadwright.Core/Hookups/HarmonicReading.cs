using System.Collections.Immutable;
using Leadwright.Core.Circuits;

namespace Leadwright.Core.Hookups;

/// <summary>The odd harmonics of one channel.</summary>
/// <param name="Phasors">Rms phasors of orders 1, 2, 3 …; order h is referred h times as far as the fundamental, to the same
/// instant as the readings' angles (see <see cref="Signals.ChannelSnapshot.Harmonics"/>).</param>
/// <param name="Noise">One standard deviation of each phasor's real and imaginary part, in the channel's unit.</param>
public sealed record HarmonicReading(ImmutableArray<Phasor> Phasors, ImmutableArray<double> Noise);
