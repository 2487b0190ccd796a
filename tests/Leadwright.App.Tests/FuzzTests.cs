using System.Runtime.CompilerServices;
using Leadwright.Fuzzing;

namespace Leadwright.App.Tests;

/// <summary>Damaged and hostile input at every reader: refused with a message or read, never a crash, a hang, a full memory, or a value that changed in silence.</summary>
public sealed class FuzzTests
{
    private const int Seed = 20260302;

    public static TheoryData<string> Targets => [.. FuzzTargets.Names];

    public static TheoryData<string, string> Kept
    {
        get
        {
            var kept = new TheoryData<string, string>();
            foreach (var folder in Directory.EnumerateDirectories(Folder()))
            {
                foreach (var file in Directory.EnumerateFiles(folder, "*.bin")) kept.Add(Path.GetFileName(folder), Path.GetFileName(file));
            }

            return kept;
        }
    }

    /// <summary>A short run; a long one is <c>dotnet run --project bench/Leadwright.Fuzzing</c>.</summary>
    [Theory]
    [Trait("speed", "slow")]
    [MemberData(nameof(Targets))]
    public void A_short_run_finds_nothing(string name)
    {
        using var target = FuzzTargets.All(name).Single();
        var count = name switch { "survey-document" => 150, "survey-zip" => 300, "web" => 300, _ => 1000 };
        RequireNone(FuzzRun.Of(target, count, Seed, cancellation: TestContext.Current.CancellationToken));
    }

    /// <summary>Journals hold everything that was saved: more of them.</summary>
    [Fact]
    [Trait("speed", "slow")]
    public void Twenty_thousand_journals_find_nothing()
    {
        using var target = FuzzTargets.All("journal").Single();
        RequireNone(FuzzRun.Of(target, 20_000, Seed + 1, cancellation: TestContext.Current.CancellationToken));
    }

    /// <summary>By hand: <c>-explicit only -class "*FuzzTests*"</c>.</summary>
    [Fact(Explicit = true)]
    public void A_million_journals_find_nothing()
    {
        using var target = FuzzTargets.All("journal").Single();
        RequireNone(FuzzRun.Of(target, 1_000_000, Seed + 2, cancellation: TestContext.Current.CancellationToken));
    }

    [Theory]
    [MemberData(nameof(Kept))]
    public void What_failed_once_fails_no_more(string name, string file)
    {
        using var target = FuzzTargets.All(name).Single();
        var input = File.ReadAllBytes(Path.Combine(Folder(), name, file));
        var before = GC.GetAllocatedBytesForCurrentThread();
        _ = target.Read(input);
        Assert.InRange(GC.GetAllocatedBytesForCurrentThread() - before, 0, target.MostAllocated(input.Length));
    }

    [Fact]
    public void The_run_sees_a_reader_that_fails_fills_the_memory_or_reads_wrong()
    {
        Assert.Contains("InvalidOperationException", FailureOf(_ => throw new InvalidOperationException("x")), StringComparison.Ordinal);
        Assert.Contains("allocated", FailureOf(_ => GC.KeepAlive(new byte[300 << 20])), StringComparison.Ordinal);
        Assert.Contains("wrong", FailureOf(_ => throw new FuzzFailureException("wrong")), StringComparison.Ordinal);
    }

    private static string FailureOf(Action<byte[]> read)
    {
        using var target = new Broken(read);
        return Assert.Single(FuzzRun.Of(target, 3, 1, cancellation: TestContext.Current.CancellationToken).Failures).Message;
    }

    private static void RequireNone(FuzzResult result) =>
        Assert.True(result.Failures.Count == 0, string.Join('\n', result.Failures.Select(failure => $"{Convert.ToBase64String(failure.Input)[..Math.Min(400, Convert.ToBase64String(failure.Input).Length)]}: {failure}")));

    private static string Folder([CallerFilePath] string caller = "") => Path.GetFullPath(Path.Combine(Path.GetDirectoryName(caller)!, "../data/fuzz"));

    private sealed class Broken(Action<byte[]> read) : FuzzTarget
    {
        public override string Name => "broken";

        public override byte[] Make(Random chance) => [1, 2, 3];

        public override bool Read(byte[] input)
        {
            read(input);
            return true;
        }
    }
}
