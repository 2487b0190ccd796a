using Leadwright.Core.Signals.Lanes;

namespace Leadwright.Core.Measuring;

/// <summary>The values of one 10/12-cycle window. One object serves all windows in turn: copy what is to be kept.</summary>
public sealed class WindowValues
{
    internal WindowValues(int rows) => Squares = new float[rows * Lane.Count];

    /// <summary>Start after the recording's start, seconds.</summary>
    public double StartSeconds { get; internal set; }

    /// <summary>End after the recording's start, seconds.</summary>
    public double EndSeconds { get; internal set; }

    /// <summary>What to know about it.</summary>
    public ValueMarks Flags { get; internal set; }

    /// <summary>Bits of the lanes with missing samples: their values are NaN.</summary>
    public int LostLanes { get; internal set; }

    /// <summary>Time since the last window, less than its length where windows overlap at a ten-minute tick; seconds.</summary>
    public double OwnSeconds { get; internal set; }

    internal float[] Squares { get; }

    internal double[] Direct { get; } = new double[Lane.Count];

    internal double[] Crest { get; } = new double[Lane.Count];

    internal float[] Peak { get; } = new float[Lane.Count];

    internal double[] HalfCycleLeast { get; } = new double[Lane.Count];

    internal double[] HalfCycleMost { get; } = new double[Lane.Count];

    internal double[] Scalars { get; } = new double[Measuring.Scalars.All.Length];
}
