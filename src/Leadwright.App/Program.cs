using System.Text;
using Leadwright.App.Verbs;

Console.OutputEncoding = new UTF8Encoding(encoderShouldEmitUTF8Identifier: false);
return await LeadwrightCommand.RunAsync(args, Console.Out, Console.Error);
