using System.Collections.Immutable;
using System.Globalization;
using Leadwright.App.Verbs;
using Leadwright.App.Verbs.Guarding;
using Leadwright.Client.Surveys;
using Leadwright.Core.Integrity;
using Leadwright.Reports.Guarding;
using Leadwright.Surveys;

namespace Leadwright.App.Hosting.Surveys;

/// <summary>Watches of recorders that still run: the engine of <c>guard --follow</c>, one for each survey while the program runs.</summary>
/// <param name="surveys">The surveys.</param>
/// <param name="clock">Paces the looks.</param>
internal sealed class SurveyFollows(ServedSurveys surveys, TimeProvider clock)
{
    private const double EverySeconds = 2;
    private const int MostAtOnce = 8;
    private readonly Lock _gate = new();
    private readonly Dictionary<string, FollowedSource> _sources = new(StringComparer.Ordinal);

    /// <summary>What is followed for a survey, and its alarms.</summary>
    public FollowSheet SheetOf(string id)
    {
        var path = surveys.PathOf(id);
        lock (_gate) return _sources.TryGetValue(path, out var source) ? source.Sheet : new FollowSheet();
    }

    /// <summary>Begins to follow a file or folder; what was followed before is left.</summary>
    /// <param name="id">The survey, which says what the panel is.</param>
    /// <param name="source">The file or folder on this computer.</param>
    /// <exception cref="SurveyException">There is no such file or folder, or too many are followed.</exception>
    public FollowSheet Start(string id, string source)
    {
        using var survey = surveys.Read(id);
        var wanted = source.Trim();
        if (!Path.IsPathFullyQualified(wanted)) throw Refused($"'{wanted}' is no whole path. Write it from its beginning, as {(OperatingSystem.IsWindows() ? @"C:\recorder\drop" : "/home/you/drop")}.");
        if (!Directory.Exists(wanted) && !File.Exists(wanted)) throw Refused($"There is no file or folder '{wanted}' on the computer that has the surveys. Start the recorder's export first, or look at the name.");
        var panel = survey.State.Panel;
        var request = new GuardRequest(
            new RecordingRequest { Service = panel.KnownService(), Nominal = panel.Nominal, FrequencyHertz = panel.FrequencyHertz }, panel.Known())
        { Follows = true, EverySeconds = EverySeconds };
        var begun = new FollowedSource(wanted, request, clock);
        lock (_gate)
        {
            if (_sources.Count(other => other.Key != survey.Path && other.Value.Sheet.IsRunning) >= MostAtOnce)
                throw Refused(string.Create(CultureInfo.InvariantCulture, $"{MostAtOnce} recorders are followed already. End one of them first."));
            if (_sources.Remove(surveys.PathOf(id), out var before)) before.Dispose();
            _sources[surveys.PathOf(id)] = begun;
        }

        begun.Start();
        return begun.Sheet;
    }

    /// <summary>Ends the watch; its alarms stay to be read.</summary>
    public FollowSheet Stop(string id)
    {
        var path = surveys.PathOf(id);
        lock (_gate)
        {
            if (!_sources.TryGetValue(path, out var source)) return new FollowSheet();
            source.Stop();
            return source.Sheet;
        }
    }

    /// <summary>Ends all of them.</summary>
    public void StopAll()
    {
        lock (_gate)
        {
            foreach (var source in _sources.Values) source.Stop();
        }
    }

    private static SurveyException Refused(string message) => new(SurveyProblem.Refused, message);

    /// <summary>One watch with its alarms.</summary>
    private sealed class FollowedSource(string path, GuardRequest request, TimeProvider clock) : IAlarms, IDisposable
    {
        private const int MostAlarms = 200;
        private readonly CancellationTokenSource _ending = new();
        private readonly Lock _gate = new();
        private readonly DateTimeOffset _since = clock.GetUtcNow();
        private ImmutableArray<FollowAlarm> _alarms = [];
        private string _note = "";
        private string _problem = "";
        private bool _isEnded;
        private int _number;

        public int Raised { get; private set; }

        public FollowSheet Sheet
        {
            get
            {
                lock (_gate) return new FollowSheet { Path = path, IsRunning = !_isEnded, Since = _since, Alarms = _alarms, Note = _note, Problem = _problem };
            }
        }

        public void Start() => _ = Task.Run(RunAsync);

        public void Stop()
        {
            lock (_gate)
            {
                if (!_isEnded) _ending.Cancel();
            }
        }

        public void Dispose()
        {
            Stop();
            lock (_gate)
            {
                if (_isEnded) _ending.Dispose();
            }
        }

        public Task TellAsync(string file, GuardNews news, CancellationToken cancellation)
        {
            lock (_gate)
            {
                Raised += news.Raised.Length;
                foreach (var span in news.Raised) _alarms = _alarms.Insert(0, AlarmOf(++_number, span, clock.GetUtcNow()));
                foreach (var alarm in news.Renamed) Change(alarm.Before, known => Renamed(known, alarm));
                foreach (var span in news.Cleared) Change(span, known => known with { Cleared = clock.GetUtcNow(), From = span.From, To = span.To });
                foreach (var span in news.Withdrawn) Change(span, known => known with { Cleared = clock.GetUtcNow(), From = span.From, To = span.To, IsWithdrawn = true });
                if (_alarms.Length > MostAlarms) _alarms = _alarms[..MostAlarms];
            }

            return Task.CompletedTask;
        }

        public Task NoteAsync(string text)
        {
            lock (_gate) _note = text;
            return Task.CompletedTask;
        }

        private async Task RunAsync()
        {
            try
            {
                await new GuardFollow(request, this, clock).RunAsync(path, _ending.Token);
            }
            catch (Exception failure) when (failure is InputRefusedException or IOException or UnauthorizedAccessException)
            {
                lock (_gate) _problem = failure.Message;
            }
            catch (Exception failure) when (failure is not OutOfMemoryException)
            {
                await Console.Error.WriteLineAsync(failure.ToString());
                lock (_gate) _problem = $"This is a fault of the program: {failure.Message} The watch has ended; the console of the program says more.";
            }
            finally
            {
                lock (_gate)
                {
                    _isEnded = true;
                    _ending.Dispose();
                }
            }
        }

        // Of two by one name the one that began then, else the elder.
        private void Change(GuardSpan span, Func<FollowAlarm, FollowAlarm> change)
        {
            var same = _alarms.Where(alarm => alarm.Cleared is null && IsSame(alarm, span)).ToList();
            if ((same.Find(alarm => alarm.From == span.From) ?? same.LastOrDefault()) is { } known) _alarms = _alarms.Replace(known, change(known));
        }

        private FollowAlarm Renamed(FollowAlarm known, RenamedAlarm alarm) => known with
        {
            Kind = GuardWords.Of(alarm.Now.Kind),
            Says = SpanWording.Of(alarm.Now),
            Todo = SpanAdvice.OnSite(alarm.Now),
            Channels = ChannelsOf(alarm.Now),
            From = alarm.Now.From,
            Was = SpanWording.WhatOf(alarm.Before),
            Renamed = clock.GetUtcNow(),
        };

        private static bool IsSame(FollowAlarm alarm, GuardSpan span) =>
            alarm.Kind == GuardWords.Of(span.Kind) && alarm.Channels.SequenceEqual(ChannelsOf(span));

        private static FollowAlarm AlarmOf(int number, GuardSpan span, DateTimeOffset now) => new(number, GuardWords.Of(span.Kind), SpanWording.Of(span))
        {
            Channels = ChannelsOf(span), From = span.From, Raised = now, Todo = SpanAdvice.OnSite(span),
        };

        private static ImmutableArray<string> ChannelsOf(GuardSpan span) => [.. span.Leads.Select(lead => lead.ToString()), .. span.Clamps.Select(clamp => clamp.ToString())];
    }
}
