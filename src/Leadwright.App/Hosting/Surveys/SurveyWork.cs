using System.Collections.Concurrent;
using Leadwright.App.Verbs;
using Leadwright.Client.Surveys;
using Leadwright.Formats;
using Leadwright.Surveys;

namespace Leadwright.App.Hosting.Surveys;

/// <summary>A piece of work that takes longer than an answer: how far it is, and how to stop it.</summary>
internal sealed class SurveyWork : IDisposable
{
    private readonly CancellationTokenSource _cancellation = new();
    private volatile string _doing;
    private volatile string _problem = "";
    private volatile string _made = "";
    private volatile bool _isDone;
    private double _share = -1;

    public SurveyWork(string doing) => _doing = doing;

    /// <summary>Its name while it is remembered.</summary>
    public string Id { get; } = Guid.NewGuid().ToString("N");

    /// <summary>How far it is.</summary>
    public WorkState State => new(Id, _doing, Volatile.Read(ref _share)) { IsDone = _isDone, Problem = _problem, Made = _made };

    /// <summary>Says what is being done now.</summary>
    /// <param name="doing">In words.</param>
    /// <param name="share">Share done, 0 to 1; below zero when not known.</param>
    public void Report(string doing, double share = -1)
    {
        _doing = doing;
        Volatile.Write(ref _share, share);
    }

    /// <summary>Stops it; does nothing once it ended.</summary>
    public void Cancel()
    {
        if (!_isDone) _cancellation.Cancel();
    }

    public void Dispose() => _cancellation.Dispose();

    public async Task RunAsync(Func<SurveyWork, CancellationToken, Task<string>> run)
    {
        try
        {
            _made = await run(this, _cancellation.Token);
        }
        catch (OperationCanceledException)
        {
            _problem = "It was stopped. Nothing was changed.";
        }
        catch (Exception failure) when (failure is InputRefusedException or FormatReadException or SurveyException or IOException or UnauthorizedAccessException)
        {
            _problem = failure.Message;
        }
        catch (Exception failure) when (failure is not OutOfMemoryException)
        {
            // The page must not wait for ever for what has ended; the whole of it goes to the console.
            await Console.Error.WriteLineAsync(failure.ToString());
            _problem = $"This is a fault of the program: {failure.Message} Nothing was changed. The console of the program says more.";
        }
        finally
        {
            _isDone = true;
        }
    }
}

/// <summary>The work in progress; work of one key is done once, however many ask for it.</summary>
internal sealed class SurveyWorks
{
    private const int MostRemembered = 200;
    private readonly ConcurrentDictionary<string, SurveyWork> _works = new(StringComparer.Ordinal);
    private readonly Dictionary<string, SurveyWork> _byKey = new(StringComparer.Ordinal);
    private readonly Lock _gate = new();

    /// <summary>The work of a name; null when it is forgotten.</summary>
    public SurveyWork? Find(string id) => _works.GetValueOrDefault(id);

    /// <summary>Starts work, or joins the one of the same key that still runs.</summary>
    public SurveyWork Start(string key, string doing, Func<SurveyWork, CancellationToken, Task<string>> run)
    {
        lock (_gate)
        {
            if (_byKey.TryGetValue(key, out var running) && !running.State.IsDone) return running;
            var work = new SurveyWork(doing);
            _byKey[key] = work;
            _works[work.Id] = work;
            foreach (var old in _works.Values.Where(old => old.State.IsDone).Take(Math.Max(0, _works.Count - MostRemembered)))
            {
                if (_works.TryRemove(old.Id, out var forgotten)) forgotten.Dispose();
            }

            _ = Task.Run(() => work.RunAsync(run));
            return work;
        }
    }
}
