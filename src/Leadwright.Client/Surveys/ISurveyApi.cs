using System.Collections.Immutable;

namespace Leadwright.Client.Surveys;

/// <summary>The surveys as the running program gives them. Every call throws <see cref="SurveyApiException"/> where it is refused or not answered.</summary>
public interface ISurveyApi
{
    /// <summary>The program's session.</summary>
    Task<SessionCard> SessionAsync(CancellationToken cancellation = default);

    /// <summary>All surveys, the last changed first.</summary>
    Task<ImmutableArray<SurveyCard>> ListAsync(CancellationToken cancellation = default);

    /// <summary>Makes a survey.</summary>
    Task<SurveySheet> MakeAsync(NewSurvey survey, CancellationToken cancellation = default);

    /// <summary>A survey.</summary>
    Task<SurveySheet> OpenAsync(string id, CancellationToken cancellation = default);

    /// <summary>Copies a survey with all it holds.</summary>
    Task<SurveySheet> DuplicateAsync(string id, CancellationToken cancellation = default);

    /// <summary>Puts a survey away, or takes it back.</summary>
    Task ArchiveAsync(string id, bool isArchived, CancellationToken cancellation = default);

    /// <summary>Imports the files of one recording, or a survey that was packed.</summary>
    /// <param name="id">The survey; empty for a packed survey, or to make one for the recording.</param>
    /// <param name="files">Names and contents.</param>
    /// <param name="said">What is said of how they are to be read.</param>
    /// <param name="progress">Told how far it is.</param>
    /// <param name="cancellation">Ends it; nothing is left half-imported.</param>
    /// <returns>What was made: the name of the recording or of the survey.</returns>
    Task<string> ImportAsync(string id, ImmutableArray<UploadFile> files, SaidReading said, IProgress<WorkState> progress, CancellationToken cancellation = default);

    /// <summary>How the columns of a recording are read, to be looked at and confirmed.</summary>
    /// <param name="id">The survey.</param>
    /// <param name="recording">The recording.</param>
    /// <param name="said">How it is to be read, to see it so before it is confirmed; null as the survey has it.</param>
    /// <param name="cancellation">Ends it.</param>
    Task<ColumnMatchSheet> MatchAsync(string id, string recording, SaidReading? said = null, CancellationToken cancellation = default);

    /// <summary>Confirms how the columns of a recording are read.</summary>
    /// <returns>What was done, in words.</returns>
    Task<string> ConfirmAsync(string id, string recording, ColumnMatchKeep columns, IProgress<WorkState> progress, CancellationToken cancellation = default);

    /// <summary>Guards a recording.</summary>
    Task<GuardSheet> GuardAsync(string id, string recording, IProgress<WorkState> progress, CancellationToken cancellation = default);

    /// <summary>Mends a recording.</summary>
    Task<MendAnswer> MendAsync(string id, string recording, IProgress<WorkState> progress, CancellationToken cancellation = default);

    /// <summary>Switches a layer of the mending on or off.</summary>
    Task SwitchAsync(string id, string recording, LayerSwitch layer, CancellationToken cancellation = default);

    /// <summary>Studies a recording, mended where it was mended.</summary>
    Task<StudyAnswer> StudyAsync(string id, string recording, string limits, IProgress<WorkState> progress, CancellationToken cancellation = default);

    /// <summary>The columns that charts can show.</summary>
    /// <param name="id">The survey.</param>
    /// <param name="recording">The recording.</param>
    /// <param name="isMended">True for the mended table.</param>
    /// <param name="cancellation">Ends it.</param>
    Task<ImmutableArray<ColumnCard>> ColumnsAsync(string id, string recording, bool isMended, CancellationToken cancellation = default);

    /// <summary>Columns over a span, as the bytes of a <see cref="Model.Charts.ColumnFrame"/>.</summary>
    /// <param name="id">The survey.</param>
    /// <param name="recording">The recording.</param>
    /// <param name="isMended">True for the mended table.</param>
    /// <param name="names">The columns.</param>
    /// <param name="start">Start, milliseconds as in a frame; null for the recording's.</param>
    /// <param name="finish">End.</param>
    /// <param name="width">The most rows.</param>
    /// <param name="cancellation">Ends it.</param>
    Task<byte[]> FrameAsync(
        string id, string recording, bool isMended, ImmutableArray<string> names, double? start, double? finish, int width, CancellationToken cancellation = default);

    /// <summary>The vector diagram at a moment; null where there is nothing to draw.</summary>
    Task<VectorSheet?> VectorsAsync(string id, string recording, bool isMended, DateTime at, CancellationToken cancellation = default);

    /// <summary>Waves, vectors and spectra of a sampled recording at a moment.</summary>
    Task<MomentSheet> MomentAsync(string id, string recording, DateTime at, CancellationToken cancellation = default);

    /// <summary>The recorder that is followed for a survey.</summary>
    Task<FollowSheet> FollowAsync(string id, CancellationToken cancellation = default);

    /// <summary>Begins to follow a file or folder on the computer that has the surveys.</summary>
    Task<FollowSheet> StartFollowAsync(string id, string path, CancellationToken cancellation = default);

    /// <summary>Ends it; the alarms stay to be read.</summary>
    Task<FollowSheet> StopFollowAsync(string id, CancellationToken cancellation = default);

    /// <summary>What was chosen and written for the report.</summary>
    Task<ReportSheet> ReportAsync(string id, CancellationToken cancellation = default);

    /// <summary>Keeps words of the report.</summary>
    /// <returns>What stands for the report then.</returns>
    Task<ReportSheet> WriteAsync(string id, WordsChange words, CancellationToken cancellation = default);

    /// <summary>Works out what the report of a recording is made from; its documents are there at once then.</summary>
    Task<ReportMade> MakeReportAsync(string id, string recording, IProgress<WorkState> progress, CancellationToken cancellation = default);

    /// <summary>The check before leaving.</summary>
    Task<DepartingSheet> DepartingAsync(string id, CancellationToken cancellation = default);

    /// <summary>Signs the check before leaving.</summary>
    Task<DepartingSheet> SignAsync(string id, DepartingSign signature, CancellationToken cancellation = default);

    /// <summary>The checks of the hook-up that are kept, and the photos.</summary>
    Task<HookupsSheet> HookupsAsync(string id, CancellationToken cancellation = default);

    /// <summary>Keeps a check of the hook-up. One that has a number is taken once.</summary>
    Task<HookupsSheet> KeepAsync(string id, HookupKeep check, CancellationToken cancellation = default);

    /// <summary>Keeps a plan. One that has a number is taken once.</summary>
    Task<SurveySheet> PlanAsync(string id, PlanKeep plan, CancellationToken cancellation = default);

    /// <summary>Attaches a photo.</summary>
    /// <param name="id">The survey.</param>
    /// <param name="photo">The file.</param>
    /// <param name="caption">What it shows.</param>
    /// <param name="cancellation">Ends it; nothing is attached then.</param>
    Task<HookupsSheet> AttachAsync(string id, UploadFile photo, string caption, CancellationToken cancellation = default);

    /// <summary>The journal, the last entry first.</summary>
    Task<ImmutableArray<JournalRow>> JournalAsync(string id, CancellationToken cancellation = default);
}

/// <summary>A file on its way to the program.</summary>
/// <param name="Name">Its name, without folders.</param>
/// <param name="Length">Its length, bytes.</param>
/// <param name="Open">Opens it.</param>
public sealed record UploadFile(string Name, long Length, Func<Stream> Open);
