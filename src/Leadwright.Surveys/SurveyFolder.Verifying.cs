using System.Collections.Immutable;
using System.Security.Cryptography;
using Leadwright.Surveys.Storage;

namespace Leadwright.Surveys;

/// <summary>Checking the folder against the journal.</summary>
public sealed partial class SurveyFolder
{
    /// <summary>Reads every file of the survey and compares its digest, and looks for files that the journal does not name.</summary>
    /// <param name="progress">Is told the share read, 0 to 1.</param>
    /// <param name="cancellation">Stops it.</param>
    public SurveyVerification Verify(IProgress<double>? progress = null, CancellationToken cancellation = default) => Verify(true, progress, cancellation);

    /// <summary>As above; without reading the files where only those are wanted that the journal does not name.</summary>
    internal SurveyVerification Verify(bool files, IProgress<double>? progress = null, CancellationToken cancellation = default)
    {
        var (state, faults) = (State, Faults);
        var total = Math.Max(state.Files.Sum(file => file.Bytes), 1);
        var done = 0L;
        var found = ImmutableArray.CreateBuilder<VerifiedFile>();
        foreach (var file in files ? state.Files : [])
        {
            found.Add(new VerifiedFile(file, StandingOf(file, cancellation)));
            done += file.Bytes;
            progress?.Report((double)done / total);
        }

        return new SurveyVerification(faults, found.ToImmutable(), Doing(_storage, "list the files", () => StraysOf(state)));
    }

    private StoredFileStanding StandingOf(StoredFile file, CancellationToken cancellation)
    {
        try
        {
            using var stream = _storage.OpenRead(file.Path);
            using var sum = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
            var block = new byte[1 << 20];
            for (int read; (read = stream.Read(block)) > 0;)
            {
                cancellation.ThrowIfCancellationRequested();
                sum.AppendData(block, 0, read);
            }

            return Convert.ToHexStringLower(sum.GetHashAndReset()) == file.Sha256 ? StoredFileStanding.Sound : StoredFileStanding.Changed;
        }
        catch (Exception failure) when (StorageFailure.IsOne(failure) || failure is SurveyException { Problem: SurveyProblem.Refused })
        {
            return StoredFileStanding.Missing;
        }
    }

    private ImmutableArray<string> StraysOf(SurveyState state)
    {
        var known = state.Files.Select(file => file.Path).ToHashSet(StringComparer.Ordinal);
        var strays = ImmutableArray.CreateBuilder<string>();
        foreach (var root in (string[])[OriginalsFolder, AttachmentsFolder])
        {
            strays.AddRange(_storage.Files(root).Select(name => $"{root}/{name}"));
            foreach (var folder in _storage.Folders(root).Select(name => $"{root}/{name}").Where(StoredPath.IsInside))
                strays.AddRange(_storage.Files(folder).Select(name => $"{folder}/{name}").Where(path => !known.Contains(path)));
        }

        return strays.ToImmutable();
    }
}
