using System.CommandLine;
using Leadwright.App.Hosting;

var serve = new ServeCommand();
var root = new RootCommand("Leadwright proves the hook-up of a power recorder and names the lead to move.");
serve.AddTo(root, Console.Out, Console.Error);
root.Add(serve.AddTo(new Command("serve", "Starts the screens on this computer."), Console.Out, Console.Error));
var parsed = root.Parse(args);
if (parsed.Errors.Count > 0)
{
    foreach (var error in parsed.Errors) await Console.Error.WriteLineAsync(error.Message);
    return 2;
}

return await parsed.InvokeAsync();
