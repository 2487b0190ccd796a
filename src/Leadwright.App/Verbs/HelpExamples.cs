using System.CommandLine;
using System.CommandLine.Help;
using System.CommandLine.Invocation;

namespace Leadwright.App.Verbs;

/// <summary>Help that ends with examples, as a manual page does.</summary>
/// <param name="usual">Writes the usual help.</param>
internal sealed class HelpExamples(SynchronousCommandLineAction usual) : SynchronousCommandLineAction
{
    private static readonly Dictionary<string, (string Does, string Line)[]> s_examples = new(StringComparer.Ordinal)
    {
        ["leadwright"] =
        [
            ("Open the screens", "leadwright"),
            ("Prove a hook-up from readings", "leadwright check panel.json"),
            ("Look through a week of logged values", "leadwright guard week.csv --service wye --nominal 230/400"),
        ],
        ["check"] =
        [
            ("Readings typed into a file", "leadwright check panel.json"),
            ("A snapshot, with what is known of the site", "leadwright check panel.cfg --service wye --nominal 230/400 --load motors --rotation abc"),
            ("Where generation may send power back", "leadwright check panel.cfg --export"),
            ("Several, for a script", "leadwright check --format json *.cfg"),
        ],
        ["guard"] =
        [
            ("A finished week", "leadwright guard week.csv --service wye --nominal 230/400"),
            ("A recorder that is still running", "leadwright guard drop/ --follow --every 60 --until-alarm"),
            ("What is added to a survey, with what it says of the panel", "leadwright guard board-7 --follow"),
        ],
        ["mend"] =
        [
            ("See what can be mended", "leadwright mend week.csv --service wye --nominal 230/400"),
            ("Write the mended table, the original stays", "leadwright mend week.csv -o mended.parquet"),
        ],
        ["measure"] =
        [
            ("Ten-minute rows", "leadwright measure recording.cfg --nominal 230/400 -o table.parquet"),
            ("Every window of 10 or 12 cycles", "leadwright measure recording.cfg --interval cycles -o windows.csv"),
        ],
        ["study"] =
        [
            ("Against a standard", "leadwright study week.csv --nominal 230/400 --limits en-50160 -o study"),
            ("Before and after a change", "leadwright study after.csv --before before.csv"),
        ],
        ["survey"] =
        [
            ("Make one", "leadwright survey new board-7 --service wye --nominal 230/400"),
            ("Bring a week in", "leadwright survey add board-7 week.csv --why \"the first week\""),
            ("Guard it, and keep the answer", "leadwright guard board-7 --recording week --keep"),
            ("Sign the check before leaving, and print it", "leadwright survey departing board-7 clock=yes range=yes memory=yes supply=yes load-1=yes load-2=yes load-3=not-possible:locked covers=yes --who A.Fitter -o leaving.pdf"),
            ("Words for its report", "leadwright survey words board-7 --set customer=Bakery --set paper=letter --set note.load=\"Ovens were off on Tuesday.\""),
            ("Onto a stick", "leadwright survey copy board-7 /media/stick"),
        ],
        ["columns"] =
        [
            ("See what each column is taken for", "leadwright columns week.csv"),
            ("Correct one, and remember it for every export of this recorder", "leadwright columns week.csv --set \"Ch 3=active-power,1,mean,kW\" --stamps end --keep"),
            ("Confirm those of a survey's recording", "leadwright columns board-7 --recording week --keep"),
        ],
        ["plan"] =
        [
            ("A sheet for the van", "leadwright plan --service wye --nominal 230/400 --for load,voltage --kw 60 --clamp-range 500 -o plan.html"),
            ("On paper, with the check before leaving", "leadwright plan --service wye --nominal 230/400 --kw 60 --colours iec-60445 -o plan.pdf --leaving leaving.pdf"),
        ],
        ["practice"] =
        [
            ("Make an exercise", "leadwright practice --form panel --level 2 -o monday"),
            ("Mark the answer", "leadwright practice --mark monday/answer.json"),
        ],
        ["report"] =
        [
            ("The document for the customer", "leadwright report week.csv --service wye --nominal 230/400 --limits en-50160 --letterhead firm.json -o report.pdf"),
            ("A survey's folder; the page and the workbook too", "leadwright report bakery/ -o report.pdf -o report.html -o tables.xlsx"),
            ("The charts alone, for a paper of your own", "leadwright report week.csv --nominal 230/400 --figures figures"),
        ],
        ["completion"] =
        [
            ("In ~/.bashrc", "leadwright completion bash"),
        ],
        ["serve"] =
        [
            ("On this computer", "leadwright serve"),
            ("For a phone of the same network", "leadwright serve --lan"),
        ],
    };

    /// <summary>Gives a program's help its examples.</summary>
    /// <param name="root">The program.</param>
    public static void AddTo(RootCommand root)
    {
        var help = root.Options.OfType<HelpOption>().Single();
        if (help.Action is SynchronousCommandLineAction usual) help.Action = new HelpExamples(usual);
    }

    /// <inheritdoc/>
    public override int Invoke(ParseResult parseResult)
    {
        var code = usual.Invoke(parseResult);
        var command = parseResult.CommandResult.Command;
        // A part of a verb has none of its own, and is not the verb of the same name.
        var isVerb = command.Parents.OfType<RootCommand>().Any();
        if (s_examples.TryGetValue(command is RootCommand ? "leadwright" : isVerb ? command.Name : "", out var examples))
        {
            var output = parseResult.InvocationConfiguration.Output;
            output.WriteLine("Examples:");
            foreach (var (does, line) in examples) output.WriteLine($"  {does}:{Environment.NewLine}    {line}");
            output.WriteLine();
        }

        return code;
    }
}
