using System.Globalization;
using System.Text;
using Leadwright.App.Verbs.Measuring;
using Leadwright.Core.Measuring;

// Measures a recording, or goes on with it, with a checkpoint after every piece, until it is killed; says the share done on standard output.
var request = new MeasureRequest
{
    Nominal = "230/400",
    Output = args[1],
    Interval = MeasuringInterval.Cycles,
    IsResumed = true,
    CheckpointEvery = TimeSpan.FromMilliseconds(1),
};
using var output = new StreamWriter(Console.OpenStandardOutput(), new UTF8Encoding(false)) { AutoFlush = true, NewLine = "\n" };
MeasureRun.Measure(
    MeasureInput.Open(args[0], request, CancellationToken.None), request, share => output.WriteLine(share.ToString("0.0000", CultureInfo.InvariantCulture)), CancellationToken.None);
output.WriteLine("done");
