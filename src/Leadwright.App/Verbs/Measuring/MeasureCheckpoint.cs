using System.Security.Cryptography;
using System.Text;
using Leadwright.Core.Measuring;

namespace Leadwright.App.Verbs.Measuring;

/// <summary>The state of an unfinished run, beside its table: <c>TABLE.checkpoint</c>.</summary>
/// <remarks>Written under another name, taken to the disk and then renamed: at any moment there is a whole one or none. It belongs to one recording, one
/// request and one build of the program; everything else is refused.</remarks>
internal sealed class MeasureCheckpoint
{
    private static readonly byte[] s_mark = "leadwright.measure-checkpoint/1\n"u8.ToArray();

    private readonly string _path;

    // What it belongs to, and how a difference is called.
    private readonly (string Text, string Difference)[] _belongings;

    private MeasureCheckpoint(string path, (string Text, string Difference)[] belongings) => (_path, _belongings) = (path, belongings);

    /// <summary>That of a run.</summary>
    /// <param name="subject">The recording.</param>
    /// <param name="request">What is asked, with an output.</param>
    public static MeasureCheckpoint For(MeasureSubject subject, MeasureRequest request)
    {
        var build = string.Join(' ', ((Type[])[typeof(MeasuringEngine), typeof(Formats.Sampling.SampleSource), typeof(MeasureCheckpoint)])
            .Select(type => type.Module.ModuleVersionId));
        var files = FilesOf(subject.Path);
        var asked = (request with { IsResumed = false, CheckpointEvery = default }).ToString() + subject.Plan;
        return new MeasureCheckpoint(request.Output + ".checkpoint",
        [
            (build, "it is of another build of the program"), (files, "the recording is another, or was changed"), (asked, "the options are others"),
        ]);
    }

    /// <summary>The stamp of a recording's files.</summary>
    /// <param name="path">The file that was named.</param>
    public static string FilesOf(string path) => FileStamp.Of(((string?[])[path, InputPaths.Beside(path, ".cfg"), InputPaths.Beside(path, ".dat")]).OfType<string>());

    /// <summary>Puts a state in the place of the last one.</summary>
    /// <param name="state">The state.</param>
    public void Write(ReadOnlyMemory<byte> state)
    {
        var fresh = _path + ".new";
        using (var stream = new FileStream(fresh, FileMode.Create))
        {
            using var writer = new BinaryWriter(stream, Encoding.UTF8, leaveOpen: true);
            writer.Write(s_mark);
            foreach (var (text, _) in _belongings) writer.Write(text);
            writer.Write(SHA256.HashData(state.Span));
            writer.Write(state.Span);
            writer.Flush();
            stream.Flush(flushToDisk: true);
        }

        File.Move(fresh, _path, overwrite: true);
    }

    /// <summary>The state; null when there is none.</summary>
    /// <exception cref="InputRefusedException">It belongs to another run, or is damaged.</exception>
    public ReadOnlyMemory<byte>? Read()
    {
        if (!File.Exists(_path)) return null;
        using var stream = File.OpenRead(_path);
        using var reader = new BinaryReader(stream, Encoding.UTF8);
        try
        {
            if (!reader.ReadBytes(s_mark.Length).AsSpan().SequenceEqual(s_mark)) throw Refusal("it is no checkpoint, or of another version");
            foreach (var (text, difference) in _belongings)
            {
                if (reader.ReadString() != text) throw Refusal(difference);
            }

            var sum = reader.ReadBytes(SHA256.HashSizeInBytes);
            var state = reader.ReadBytes((int)(stream.Length - stream.Position));
            return SHA256.HashData(state).AsSpan().SequenceEqual(sum) ? state : throw Refusal("it is damaged");
        }
        catch (Exception failure) when (failure is EndOfStreamException or FormatException)
        {
            throw Refusal("it is damaged", failure);
        }
    }

    /// <summary>Takes it away.</summary>
    public void Delete()
    {
        File.Delete(_path);
        File.Delete(_path + ".new");
    }

    /// <summary>The refusal to go on from it.</summary>
    /// <param name="why">Why.</param>
    /// <param name="cause">What is behind it.</param>
    public InputRefusedException Refusal(string why, Exception? cause = null) => new(
        ExitCode.InputUnusable, $"Cannot resume from '{_path}': {why}. Leave out --resume to measure from the start.", cause);
}
