using Leadwright.Core.Integrity;

namespace Leadwright.App.Verbs.Guarding;

/// <summary>Where the news of a watch goes.</summary>
internal interface IAlarms
{
    /// <summary>How many alarms were raised.</summary>
    int Raised { get; }

    /// <summary>Tells what is new.</summary>
    /// <param name="file">The file it was found in.</param>
    /// <param name="news">The news.</param>
    /// <param name="cancellation">Ends it.</param>
    Task TellAsync(string file, GuardNews news, CancellationToken cancellation);

    /// <summary>Tells something that is no alarm.</summary>
    /// <param name="text">In words.</param>
    Task NoteAsync(string text);
}
