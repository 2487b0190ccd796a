using System.Globalization;
using Leadwright.Surveys.Importing;

namespace Leadwright.App.Verbs.Surveying;

/// <summary>A line that shows how far a work on a survey is: to a person at a terminal, once it takes longer than a moment. Disposing takes the line away.</summary>
internal sealed class SurveyProgress : IDisposable
{
    private const double FirstAfterSeconds = 0.5;

    private readonly TextWriter _error;
    private readonly TimeProvider _clock;
    private readonly bool _isShown;
    private readonly Lock _gate = new();
    private long _last;
    private bool _hasLine;

    /// <summary>Shows on standard error where that is a terminal.</summary>
    /// <param name="error">Standard error.</param>
    public SurveyProgress(TextWriter error)
        : this(error, !Console.IsErrorRedirected && ReferenceEquals(error, Console.Error), TimeProvider.System)
    {
    }

    /// <summary>Shows where it is told to.</summary>
    /// <param name="error">Receives the line.</param>
    /// <param name="isShown">False to show nothing.</param>
    /// <param name="clock">The clock.</param>
    internal SurveyProgress(TextWriter error, bool isShown, TimeProvider clock)
    {
        (_error, _isShown, _clock) = (error, isShown, clock);
        _last = clock.GetTimestamp();
    }

    /// <summary>Progress of one piece of work.</summary>
    /// <param name="doing">What is done, as in <c>copying</c>.</param>
    public IProgress<double> Of(string doing) => new Told<double>(share => Show(doing, share));

    /// <summary>Progress of an import.</summary>
    /// <param name="name">The file.</param>
    public IProgress<ImportProgress> OfImport(string name) => new Told<ImportProgress>(progress => Show(
        $"{name}: {progress.Step switch
        {
            ImportStep.Copying => "copying",
            ImportStep.Reading => "reading",
            ImportStep.Scanning => "looking for leads and clamps that came off",
            ImportStep.Saving => "saving",
            _ => "making its table for charts",
        }}",
        progress.Share));

    public void Dispose()
    {
        lock (_gate)
        {
            if (_hasLine) _error.Write("\r\u001b[K");
            _hasLine = false;
        }
    }

    private void Show(string doing, double share)
    {
        if (!_isShown) return;
        lock (_gate)
        {
            var now = _clock.GetTimestamp();
            if (_clock.GetElapsedTime(_last, now).TotalSeconds < FirstAfterSeconds) return;
            (_last, _hasLine) = (now, true);
            _error.Write(string.Create(CultureInfo.InvariantCulture, $"\r\u001b[K{doing} {100 * Math.Clamp(share, 0, 1):0} %"));
        }
    }

    // Told at once and in order; the library's own hands it to a pool of threads.
    private sealed class Told<T>(Action<T> tell) : IProgress<T>
    {
        public void Report(T value) => tell(value);
    }
}
