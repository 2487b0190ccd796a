using System.Text.Json;
using Leadwright.App.Verbs;

namespace Leadwright.App.Tests.Verbs;

/// <summary>Runs the whole program in this process, on real files.</summary>
internal static class CheckProgram
{
    /// <summary>What one run gave.</summary>
    internal sealed record Run(int ExitCode, string Output, string Error)
    {
        /// <summary>The answer of one file.</summary>
        public JsonElement Json => JsonDocument.Parse(Output).RootElement;
    }

    public static async Task<Run> CheckAsync(params string[] args)
    {
        using var output = new StringWriter { NewLine = "\n" };
        using var error = new StringWriter { NewLine = "\n" };
        var code = await LeadwrightCommand.RunAsync(
            ["check", .. args], output, error, TestContext.Current.CancellationToken);
        return new Run(code, output.ToString(), error.ToString());
    }
}
