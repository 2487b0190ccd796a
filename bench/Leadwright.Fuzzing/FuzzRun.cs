using System.Diagnostics;
using System.Security.Cryptography;

namespace Leadwright.Fuzzing;

/// <summary>What a run found.</summary>
/// <param name="Count">Inputs that were read.</param>
/// <param name="Taken">Those that were read through; the others were refused with a message.</param>
/// <param name="SlowestMilliseconds">The slowest of them.</param>
/// <param name="MostAllocated">Most bytes that one made a thread allocate.</param>
/// <param name="Failures">Inputs that did what none may.</param>
public sealed record FuzzResult(long Count, long Taken, double SlowestMilliseconds, long MostAllocated, IReadOnlyList<FuzzFailureException> Failures);

/// <summary>Reads inputs one after the other: no crash, no hang, no unbounded memory, and no silent wrong reading where the target can tell.</summary>
public static class FuzzRun
{
    /// <summary>Time that no input may take, on a machine that has other work too. One that hangs is told by the watch of the program or of the test.</summary>
    public static TimeSpan MostTime { get; } = TimeSpan.FromSeconds(20);

    /// <summary>Runs.</summary>
    /// <param name="target">What reads.</param>
    /// <param name="count">How many inputs.</param>
    /// <param name="seed">Seed of the first; the next ones count on.</param>
    /// <param name="started">Is told of each input before it is read.</param>
    /// <param name="mostFailures">Ends it after so many failures.</param>
    /// <param name="cancellation">Ends it early.</param>
    public static FuzzResult Of(FuzzTarget target, long count, int seed, Action<byte[]>? started = null, int mostFailures = 20, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(target);
        var failures = new List<FuzzFailureException>();
        var seen = new HashSet<string>(StringComparer.Ordinal);
        var (done, taken, slowest, most) = (0L, 0L, 0.0, 0L);
        for (; done < count && failures.Count < mostFailures && !cancellation.IsCancellationRequested; done++)
        {
            var chance = new Random(unchecked(seed + (int)done));
            byte[] input = [];
            var (clock, before, used) = (Stopwatch.GetTimestamp(), GC.GetAllocatedBytesForCurrentThread(), UsedTime());
            try
            {
                if (chance.Next(4) == 0 && target.ReadChanged(chance) is { } changed)
                {
                    input = changed;
                    taken++;
                }
                else
                {
                    input = target.Make(chance);
                    started?.Invoke(input);
                    (clock, before, used) = (Stopwatch.GetTimestamp(), GC.GetAllocatedBytesForCurrentThread(), UsedTime());
                    if (target.Read(input)) taken++;
                    var allocated = GC.GetAllocatedBytesForCurrentThread() - before;
                    most = Math.Max(most, allocated);
                    if (allocated > target.MostAllocated(input.Length)) throw new FuzzFailureException($"allocated {allocated >> 20} MB for {input.Length} bytes");
                }

                var took = Stopwatch.GetElapsedTime(clock);
                slowest = Math.Max(slowest, took.TotalMilliseconds);
                // On a machine that gives a reader no turn the clock alone says nothing.
                if (took > MostTime && UsedTime() - used > MostTime / 4) throw new FuzzFailureException($"took {took.TotalSeconds:0.0} s for {input.Length} bytes");
            }
            catch (Exception failure)
            {
                var found = failure as FuzzFailureException ?? new FuzzFailureException($"{failure.GetType().Name}: {failure.Message}", failure);
                if (found.Input.Length == 0) found.Input = input;
                // One of each kind: the same place of the code fails a thousand times.
                var where = failure is FuzzFailureException ? found.Message[..Math.Min(found.Message.Length, 20)] : $"{failure.GetType().Name} {failure.StackTrace?.Split('\n')[0]}";
                if (seen.Add(where)) failures.Add(found);
            }
        }

        return new FuzzResult(done, taken, slowest, most, failures);
    }

    private static TimeSpan UsedTime() => Environment.CpuUsage.TotalTime;

    /// <summary>A name for an input.</summary>
    /// <param name="input">Its bytes.</param>
    public static string NameOf(byte[] input) => Convert.ToHexStringLower(SHA256.HashData(input))[..16] + ".bin";
}
