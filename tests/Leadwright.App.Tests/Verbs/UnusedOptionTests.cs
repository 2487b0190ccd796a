using Leadwright.App.Verbs;

namespace Leadwright.App.Tests.Verbs;

/// <summary>Nothing that was typed is passed over in silence.</summary>
public sealed class UnusedOptionTests
{
    private static readonly string s_log = TestFolder.Data("interval/household-1min-2007-02-01.csv");

    [Theory]
    [InlineData("check", "--nominl", "Was '--nominal' meant?")]
    [InlineData("guard", "--sevrice", "Was '--service' meant?")]
    [InlineData("study", "--limts", "Was '--limits' meant?")]
    [InlineData("mend", "--servise=wye", "There is no option '--servise'. Was '--service' meant?")]
    public async Task A_mistyped_option_is_met_with_the_one_that_was_meant(string verb, string typed, string says)
    {
        using var output = new StringWriter();
        using var error = new StringWriter();
        Assert.Equal((int)ExitCode.WrongUsage, await LeadwrightCommand.RunAsync([verb, s_log, typed], output, error, TestContext.Current.CancellationToken));
        Assert.Contains(says, error.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_option_like_no_other_is_met_with_none()
    {
        using var output = new StringWriter();
        using var error = new StringWriter();
        await LeadwrightCommand.RunAsync(["check", s_log, "--frobnicate"], output, error, TestContext.Current.CancellationToken);
        Assert.Contains("There is no option '--frobnicate'. 'leadwright check --help' lists them.", error.ToString(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("check")]
    [InlineData("guard")]
    [InlineData("study")]
    public async Task What_names_channels_of_samples_or_a_worksheet_is_told_to_be_unused_on_a_log_of_text(string verb)
    {
        using var output = new StringWriter();
        using var error = new StringWriter();
        await LeadwrightCommand.RunAsync([verb, s_log, "--service", "single", "--channels", "V1=a", "--sheet", "Tuesday"], output, error, TestContext.Current.CancellationToken);
        var all = output.ToString() + error;
        Assert.Contains("--channels is not used", all, StringComparison.Ordinal);
        Assert.Contains("was asked for: this table is no workbook", all, StringComparison.Ordinal);
    }
}
