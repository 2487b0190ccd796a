using System.CommandLine;

namespace Leadwright.App.Hosting;

/// <summary>The verb <c>serve</c>: starts the screens on this computer.</summary>
public sealed class ServeCommand
{
    private readonly Option<int> _port = new("--port")
    {
        Description = "Port of the address.",
        DefaultValueFactory = _ => ServeOptions.DefaultPort,
    };

    private readonly Option<string?> _data = new("--data") { Description = "Folder for surveys; made when it does not exist." };
    private readonly Option<bool> _demo = new("--demo") { Description = "Prints the address with invented panels to try." };
    private readonly Option<bool> _lan = new("--lan") { Description = "Answers other devices of the local network too, once they showed the code that is printed." };

    /// <summary>Makes the verb's options.</summary>
    public ServeCommand()
    {
        _port.Validators.Add(result =>
        {
            if (result.GetValueOrDefault<int>() is < 0 or > 65535)
                result.AddError("--port must be from 1 to 65535, or 0 for any free one.");
        });
    }

    /// <summary>Gives a command the options of this verb, and lets it start the host.</summary>
    /// <param name="command">The command: <c>serve</c>, or the root for a start without a verb.</param>
    /// <param name="output">Receives the address.</param>
    /// <param name="error">Receives why the host can't start.</param>
    /// <returns>The same command.</returns>
    public Command AddTo(Command command, TextWriter output, TextWriter error)
    {
        ArgumentNullException.ThrowIfNull(command);
        command.Add(_port);
        command.Add(_data);
        command.Add(_demo);
        command.Add(_lan);
        command.SetAction((parsed, cancellation) => RunAsync(OptionsOf(parsed), output, error, cancellation));
        return command;
    }

    private static async Task<int> RunAsync(ServeOptions options, TextWriter output, TextWriter error, CancellationToken cancellation)
    {
        try
        {
            await WebHost.RunAsync(options, output, cancellation);
            return 0;
        }
        catch (OperationCanceledException) when (cancellation.IsCancellationRequested)
        {
            return 0;
        }
        catch (HostStartException failure)
        {
            await error.WriteLineAsync(failure.Message);
            return 1;
        }
    }

    private ServeOptions OptionsOf(ParseResult parsed) => new()
    {
        Port = parsed.GetValue(_port),
        DataFolder = parsed.GetValue(_data),
        Demo = parsed.GetValue(_demo),
        Lan = parsed.GetValue(_lan),
    };
}
