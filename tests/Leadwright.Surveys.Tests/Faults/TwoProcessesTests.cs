using System.Diagnostics;
using System.Globalization;
using Leadwright.Surveys.Journal;

namespace Leadwright.Surveys.Tests.Faults;

/// <summary>Two processes of the system on one survey: the second is told who has it, readers read, and nothing breaks.</summary>
public sealed class TwoProcessesTests : IDisposable
{
    private const int Attempts = 5;
    private readonly string _place = Directory.CreateTempSubdirectory("leadwright-two-").FullName;

    public void Dispose() => Directory.Delete(_place, recursive: true);

    [Fact]
    public async Task The_second_writer_is_told_who_has_the_survey_and_readers_see_whole_entries()
    {
        // Who comes just as the writer has closed it for a moment is never refused: that proves nothing, and is tried again.
        var refused = 0;
        for (var attempt = 0; attempt < Attempts && refused == 0; attempt++) refused = await TimesRefused(Path.Combine(_place, $"board{attempt}"), TestContext.Current.CancellationToken);
        Assert.True(refused > 0);
    }

    private static async Task<int> TimesRefused(string folder, CancellationToken cancellation)
    {
        var start = new ProcessStartInfo("dotnet") { RedirectStandardOutput = true, UseShellExecute = false };
        // Else the runtime leaves its sockets for debuggers among the temporary files of everybody.
        start.Environment["DOTNET_EnableDiagnostics"] = "0";
        start.ArgumentList.Add(Path.Combine(AppContext.BaseDirectory, "Leadwright.Surveys.KilledWriter.dll"));
        start.ArgumentList.Add(folder);
        // A seed whose first steps don't close the survey.
        start.ArgumentList.Add("4");
        var refused = 0;
        using var process = Process.Start(start)!;
        try
        {
            Assert.Equal("ready", await process.StandardOutput.ReadLineAsync(cancellation));
            Assert.NotNull(await process.StandardOutput.ReadLineAsync(cancellation));
            var drained = process.StandardOutput.ReadToEndAsync(cancellation);
            var last = 0L;
            for (var round = 0; round < 200; round++)
            {
                try
                {
                    // It closes and opens the survey now and then: whoever comes between has it, and must leave it whole.
                    using var second = SurveyFolder.Open(folder, SurveyAccess.Write, Surveys.Author);
                    second.Append(new PlanChanged(new() { Text = "from the second" }));
                    break;
                }
                catch (SurveyException refusal)
                {
                    Assert.Equal(SurveyProblem.InUse, refusal.Problem);
                    Assert.Contains("Close it there, or open it to read.", refusal.Message, StringComparison.Ordinal);
                    Assert.True(refusal.Message.Contains(string.Create(CultureInfo.InvariantCulture, $"(process {process.Id})"), StringComparison.Ordinal)
                        || refusal.Message.Contains("somebody else", StringComparison.Ordinal), refusal.Message);
                    refused++;
                }

                using var reader = SurveyFolder.Open(folder);
                Assert.Empty(reader.Faults);
                Assert.True(reader.State.LastEntry >= last);
                last = reader.State.LastEntry;
            }

            process.Kill();
            await process.WaitForExitAsync(cancellation);
        }
        finally
        {
            if (!process.HasExited) process.Kill();
        }

        using var after = SurveyFolder.Open(folder, SurveyAccess.Write, Surveys.Author);
        Assert.True(after.Verify(cancellation: cancellation).IsSound);
        Assert.False(Directory.Exists(Path.Combine(folder, "incoming")));
        return refused;
    }
}
