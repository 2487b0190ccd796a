using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;

namespace Leadwright.Documents.Tests.Pdf;

/// <summary>A reader of the objects of our own files, which keeps their dictionaries plain: what leads where, and what the logical structure holds.</summary>
internal sealed partial class PdfObjects
{
    private readonly Dictionary<int, string> _objects = [];

    public PdfObjects(byte[] bytes)
    {
        foreach (Match match in Whole().Matches(Encoding.Latin1.GetString(bytes)))
            _objects[int.Parse(match.Groups[1].Value, CultureInfo.InvariantCulture)] = match.Groups[2].Value;
    }

    /// <summary>Numbers of the pages in order.</summary>
    public List<int> Pages => [.. References().Matches(_objects.Values.Single(text => text.StartsWith("<</Type/Pages", StringComparison.Ordinal))).Select(match => int.Parse(match.Groups[1].Value, CultureInfo.InvariantCulture))];

    /// <summary>The pages that links and bookmarks lead to.</summary>
    public List<int> Destinations => [.. _objects.Values.SelectMany(text => Destination().Matches(text)).Select(match => int.Parse(match.Groups[1].Value, CultureInfo.InvariantCulture))];

    /// <summary>The rows of every table, in order: each cell as its type, what it heads (empty for none) and how many columns it spans.</summary>
    public List<List<List<(string Type, string Scope, int Span)>>> Tables() =>
    [
        .. _objects.Values.Where(text => text.StartsWith("<</Type/StructElem/S/Table/", StringComparison.Ordinal)).Select(table => KidsIn(table).Select(row => KidsIn(_objects[row]).Select(cell => (
            ElementType().Match(_objects[cell]).Groups[1].Value, ScopeOf().Match(_objects[cell]).Groups[1].Value,
            SpanOf().Match(_objects[cell]) is { Success: true } span ? int.Parse(span.Groups[1].Value, CultureInfo.InvariantCulture) : 1)).ToList()).ToList()),
    ];

    /// <summary>The annotations that are links: what each says, and the elements of type Link that hold it.</summary>
    public List<(string Says, int Holders, bool HasParent)> Links() =>
    [
        .. _objects.Where(pair => pair.Value.Contains("/Subtype/Link", StringComparison.Ordinal)).Select(pair => (
            Contents().Match(pair.Value).Groups[1].Value,
            _objects.Values.Count(text => text.StartsWith("<</Type/StructElem/S/Link/", StringComparison.Ordinal) && text.Contains($"/Obj {pair.Key} 0 R", StringComparison.Ordinal)),
            pair.Value.Contains("/StructParent ", StringComparison.Ordinal))),
    ];

    private static List<int> KidsIn(string element) =>
        [.. References().Matches(Dictionaries().Replace(KidsOf().Match(element).Groups[1].Value, " ")).Select(match => int.Parse(match.Groups[1].Value, CultureInfo.InvariantCulture))];

    /// <summary>The logical structure from its root, depth first: its type, its parent's type, its marked content as page and mark, its kids' types.</summary>
    public List<(string Type, string Parent, List<(int Page, int Mark)> Marks, List<string> Kids)> Structure()
    {
        var found = new List<(string, string, List<(int, int)>, List<string>)>();
        var root = _objects.Values.Single(text => text.StartsWith("<</Type/StructTreeRoot", StringComparison.Ordinal));
        Walk(int.Parse(RootKid().Match(root).Groups[1].Value, CultureInfo.InvariantCulture), "");
        return found;

        void Walk(int number, string parent)
        {
            var text = _objects[number];
            var type = TypeOf(number);
            var kids = KidsOf().Match(text).Groups[1].Value;
            var marks = Marked().Matches(kids).Select(match => (int.Parse(match.Groups[1].Value, CultureInfo.InvariantCulture), int.Parse(match.Groups[2].Value, CultureInfo.InvariantCulture))).ToList();
            // Before the first "<<" and between the dictionaries stand the references to kids.
            var inner = References().Matches(Dictionaries().Replace(kids, " ")).Select(match => int.Parse(match.Groups[1].Value, CultureInfo.InvariantCulture)).ToList();
            found.Add((type, parent, marks, [.. inner.Select(TypeOf)]));
            foreach (var kid in inner) Walk(kid, type);
        }

        string TypeOf(int number) => ElementType().Match(_objects[number]).Groups[1].Value;
    }

    [GeneratedRegex(@"(?<=^|\n)(\d+) 0 obj\n?(.*?)\n?(?:endobj|stream)", RegexOptions.Singleline)]
    private static partial Regex Whole();

    [GeneratedRegex(@"(\d+) 0 R")]
    private static partial Regex References();

    [GeneratedRegex(@"/Dest\[(\d+) 0 R")]
    private static partial Regex Destination();

    [GeneratedRegex(@"/K (\d+) 0 R")]
    private static partial Regex RootKid();

    [GeneratedRegex(@"^<</Type/StructElem/S/(\w+)/P \d+ 0 R")]
    private static partial Regex ElementType();

    [GeneratedRegex(@"/K\[(.*?)\](?=/A<<|/Alt|>>$)", RegexOptions.Singleline)]
    private static partial Regex KidsOf();

    [GeneratedRegex(@"<</Type/MCR/Pg (\d+) 0 R/MCID (\d+)>>")]
    private static partial Regex Marked();

    [GeneratedRegex(@"/Scope/(\w+)")]
    private static partial Regex ScopeOf();

    [GeneratedRegex(@"/ColSpan (\d+)")]
    private static partial Regex SpanOf();

    [GeneratedRegex(@"/Contents(\([^)]*\)|<[0-9A-Fa-f]*>)")]
    private static partial Regex Contents();

    [GeneratedRegex(@"<<.*?>>")]
    private static partial Regex Dictionaries();
}
