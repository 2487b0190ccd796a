using Leadwright.Core.Signals.Lanes;
using Leadwright.Core.Signals.Windows;

namespace Leadwright.Core.Measuring;

/// <summary>A stretch of frames with what was found in it, on its way from the first half of the work to the second.</summary>
internal sealed class Slab(int historyFrames, int newFrames)
{
    /// <summary>Frames kept from the slab before.</summary>
    public int HistoryFrames { get; } = historyFrames;

    /// <summary>Frames that it takes new.</summary>
    public int NewFrames { get; } = newFrames;

    /// <summary>History, then new frames, then room for the few frames that close a segment.</summary>
    public float[] Frames { get; } = new float[(historyFrames + newFrames + LaneResampler.TapCount) * Lane.Count];

    /// <summary>Place in the segment of the first frame of <see cref="Frames"/>; negative at the start of a segment.</summary>
    public long FirstFrame { get; set; }

    /// <summary>New frames taken so far.</summary>
    public int Count { get; set; }

    /// <summary>Time of place 0 of the segment after the recording's start, seconds.</summary>
    public double SegmentSeconds { get; set; }

    /// <summary>The windows that are ready, in order.</summary>
    public List<WindowJob> Windows { get; } = [];

    /// <summary>Events that ended, in order.</summary>
    public List<TimedEvent> Events { get; } = [];

    /// <summary>Waveforms that are complete.</summary>
    public List<CapturedWaveform> Waveforms { get; } = [];

    /// <summary>Frequencies of ten seconds.</summary>
    public List<FrequencyValue> Frequencies { get; } = [];

    /// <summary>Flicker of ten minutes.</summary>
    public List<FlickerValue> Flickers { get; } = [];

    /// <summary>True when the recording ends with it.</summary>
    public bool IsLast { get; set; }

    /// <summary>Frames at hand, old and new.</summary>
    public ReadOnlySpan<float> AtHand => Frames.AsSpan(0, (HistoryFrames + Count) * Lane.Count);

    /// <summary>Frames at hand and the few behind them that close a segment.</summary>
    public ReadOnlySpan<float> WithTail => Frames;

    public void Reset()
    {
        Count = 0;
        IsLast = false;
        Windows.Clear();
        Events.Clear();
        Waveforms.Clear();
        Frequencies.Clear();
        Flickers.Clear();
    }
}

/// <summary>A window to measure.</summary>
internal struct WindowJob
{
    public WindowSpan Span;
    public double StartSeconds, EndSeconds, OwnSeconds, Hertz;
    public ValueMarks Flags;
    public int LostLanes;

    /// <summary>Least and largest half-cycle values of the lanes in it.</summary>
    public LaneValues Least, Most;
}

[System.Runtime.CompilerServices.InlineArray(Lane.Count)]
internal struct LaneValues
{
    private double _first;
}

internal readonly record struct FrequencyValue(double StartSeconds, double Hertz, ValueMarks Flags);

internal readonly record struct FlickerValue(double StartSeconds, double EndSeconds, LaneValues Pst, ValueMarks Flags);
