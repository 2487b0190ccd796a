using Leadwright.Formats.Logs;

namespace Leadwright.Formats.Tests.Logs;

/// <summary>Reads logs in tests, ended with the test.</summary>
internal static class ReadLog
{
    public static LogFile Of(InputFile file, LogReadOptions? options = null) => LogReader.Read(file, options, null, TestContext.Current.CancellationToken);
}
