using Leadwright.App.Verbs;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;

namespace Leadwright.App.Tests.Verbs;

/// <summary>Runs the program in this process, on inputs made by hand.</summary>
internal sealed class CommandRun : ICheckInput
{
    private readonly Dictionary<string, Func<HookupVerdict>> _verdicts = [];
    private readonly Dictionary<PanelReadings, HookupVerdict> _byReadings = new(ReferenceEqualityComparer.Instance);

    public string Output { get; private set; } = "";

    public string Error { get; private set; } = "";

    public CheckRequest? Request { get; private set; }

    public CheckOptions? Known { get; private set; }

    public CommandRun With(string path, Func<HookupVerdict> verdict)
    {
        _verdicts[path] = verdict;
        return this;
    }

    public async Task<int> RunAsync(params string[] args)
    {
        using var output = new StringWriter { NewLine = "\n" };
        using var error = new StringWriter { NewLine = "\n" };
        var root = LeadwrightCommand.Root(output, error, new CheckVerb(this, Judge));
        var code = await LeadwrightCommand.RunAsync(root, args, output, error, TestContext.Current.CancellationToken);
        (Output, Error) = (output.ToString(), error.ToString());
        return code;
    }

    public Task<CheckSubject> ReadAsync(string path, CheckRequest request, CancellationToken cancellation)
    {
        Request = request;
        if (!_verdicts.TryGetValue(path, out var verdict))
            throw new InputRefusedException(ExitCode.InputUnusable, $"Cannot read '{path}': no such file.");
        var readings = new PanelReadings { Service = ServiceKind.Wye };
        _byReadings[readings] = verdict();
        return Task.FromResult(new CheckSubject(readings, [], []));
    }

    private HookupVerdict Judge(PanelReadings readings, CheckOptions known)
    {
        Known = known;
        return _byReadings[readings];
    }
}
