using Leadwright.Core.Measuring;
using Leadwright.Core.Signals.Lanes;

namespace Leadwright.App.Verbs.Measuring;

/// <summary>Feeds a recording to the measuring engine.</summary>
internal static class MeasureFeed
{
    /// <summary>From beginning to end.</summary>
    /// <param name="subject">The recording.</param>
    /// <param name="engine">Receives it.</param>
    /// <param name="progress">Receives the share done, 0 to 1.</param>
    /// <param name="cancellation">Ends it early.</param>
    public static void Run(MeasureSubject subject, MeasuringEngine engine, Action<double> progress, CancellationToken cancellation)
    {
        var source = subject.Source;
        while (true)
        {
            cancellation.ThrowIfCancellationRequested();
            var count = source.Read(engine.Room);
            if (count > 0)
            {
                foreach (var lane in subject.Derived) Derive(engine.Room[..(count * Lane.Count)], lane);
                engine.Advance(count);
                progress(source.Share);
            }
            else if (source.NextSegmentSeconds is { } seconds) engine.Break(seconds);
            else return;
        }
    }

    /// <summary>Works out a lane that is minus the sum of two others.</summary>
    /// <param name="frames">The frames.</param>
    /// <param name="lane">The lane.</param>
    public static void Derive(Span<float> frames, DerivedLane lane)
    {
        for (var at = 0; at < frames.Length; at += Lane.Count) frames[at + lane.Target] = -(frames[at + lane.First] + frames[at + lane.Second]);
    }
}
