using System.Globalization;
using System.Text;
using Leadwright.Documents.Fonts;

namespace Leadwright.Documents.Pdf;

/// <summary>Puts the laid-out pages together into a file with structure, bookmarks, links and metadata.</summary>
/// <param name="fonts">The fonts that the pages used.</param>
/// <param name="root">The root of the logical structure, a Document.</param>
internal sealed class PdfAssembly(FontShelf fonts, PdfElement root)
{
    private readonly PdfFile _file = new();
    private readonly Dictionary<PdfElement, int> _elements = [];
    private readonly Dictionary<PdfLink, (int Number, int Parent)> _links = [];
    private int[] _pages = [];

    public required string Title { get; init; }

    public required string Author { get; init; }

    public required string Subject { get; init; }

    public required string Producer { get; init; }

    public required string Language { get; init; }

    public required DateTime Date { get; init; }

    public required byte[] Identity { get; init; }

    /// <summary>The bytes of the file.</summary>
    public byte[] Write(IReadOnlyList<PdfPage> pages, IReadOnlyList<PdfBookmark> bookmarks, IReadOnlyList<PdfImage> images)
    {
        var catalog = _file.Reserve();
        var tree = _file.Reserve();
        _pages = [.. pages.Select(_ => _file.Reserve())];
        var fontEntries = PdfFonts.Write(_file, fonts);
        int[] imageNumbers = [.. images.Select(image => image.Write(_file))];
        var structure = _file.Reserve();
        Number(root);
        foreach (var (link, index) in pages.SelectMany(page => page.Links).Select((link, index) => (link, index))) _links[link] = (_file.Reserve(), pages.Count + index);
        foreach (var page in pages) Write(page, tree, fontEntries, imageNumbers);
        foreach (var (link, (number, parent)) in _links) Write(link, number, parent, pages);
        Write(root, structure);
        _file.Set(structure, $"<</Type/StructTreeRoot/K {_elements[root]} 0 R/ParentTree {ParentTree(pages)} 0 R/ParentTreeNextKey {pages.Count + _links.Count}>>");
        _file.Set(tree, $"<</Type/Pages/Count {pages.Count}/Kids[{string.Join(' ', _pages.Select(page => $"{page} 0 R"))}]>>");
        var outline = Outline(bookmarks, pages);
        var metadata = _file.AddStream("/Type/Metadata/Subtype/XML", Encoding.UTF8.GetBytes(Metadata()), isDeflated: false);
        _file.Set(catalog,
            $"<</Type/Catalog/Pages {tree} 0 R/Lang{PdfFile.Text(Language)}/MarkInfo<</Marked true>>/StructTreeRoot {structure} 0 R/ViewerPreferences<</DisplayDocTitle true>>"
            + $"/PageMode/UseOutlines/Outlines {outline} 0 R/Metadata {metadata} 0 R>>");
        var date = Date == default ? "" : string.Create(CultureInfo.InvariantCulture, $"/CreationDate(D:{Date:yyyyMMddHHmmss}Z)/ModDate(D:{Date:yyyyMMddHHmmss}Z)");
        var info = _file.Add(
            $"<</Title{PdfFile.Text(Title)}/Author{PdfFile.Text(Author)}/Subject{PdfFile.Text(Subject)}/Creator{PdfFile.Text(Producer)}/Producer{PdfFile.Text(Producer)}{date}>>");
        return _file.Finish(catalog, info, Identity);
    }

    private void Number(PdfElement element)
    {
        _elements[element] = _file.Reserve();
        foreach (var kid in element.Kids.OfType<PdfElement>()) Number(kid);
    }

    private void Write(PdfElement element, int parent)
    {
        var number = _elements[element];
        var kids = new StringBuilder();
        foreach (var kid in element.Kids)
        {
            kids.Append(kid switch
            {
                PdfElement inner => $"{_elements[inner]} 0 R ",
                PdfContent content => $"<</Type/MCR/Pg {_pages[content.Page]} 0 R/MCID {content.Mark}>>",
                PdfLink link => $"<</Type/OBJR/Pg {_pages[link.Page]} 0 R/Obj {_links[link].Number} 0 R>>",
                _ => "",
            });
        }

        var attributes = (element.Scope, element.Span) switch
        {
            (null, 1) => "",
            (null, var span) => $"/A<</O/Table/ColSpan {span}>>",
            (var scope, 1) => $"/A<</O/Table/Scope/{scope}>>",
            var (scope, span) => $"/A<</O/Table/Scope/{scope}/ColSpan {span}>>",
        };
        var alternative = element.Alternative is { } says ? $"/Alt{PdfFile.Text(says)}" : "";
        _file.Set(number, $"<</Type/StructElem/S/{element.Type}/P {parent} 0 R/K[{kids}]{attributes}{alternative}>>");
        foreach (var kid in element.Kids.OfType<PdfElement>()) Write(kid, number);
    }

    private void Write(PdfPage page, int tree, string fontEntries, int[] images)
    {
        var content = _file.AddStream("", page.Content);
        var states = string.Concat(page.Opacities.Select(opacity =>
            $"/O{opacity.Fill}x{opacity.Stroke}<</ca {PdfFile.Number(opacity.Fill / 100.0)}/CA {PdfFile.Number(opacity.Stroke / 100.0)}>>"));
        var pictures = string.Concat(page.Images.Select(image => $"/Im{image} {images[image]} 0 R"));
        var links = page.Links.Count == 0 ? "" : $"/Annots[{string.Join(' ', page.Links.Select(link => $"{_links[link].Number} 0 R"))}]";
        _file.Set(_pages[page.Number],
            $"<</Type/Page/Parent {tree} 0 R/MediaBox[0 0 {PdfFile.Number(page.Width)} {PdfFile.Number(page.Height)}]/Tabs/S/StructParents {page.Number}/Contents {content} 0 R"
            + $"/Resources<</Font<<{fontEntries}>>/ExtGState<<{states}>>/XObject<<{pictures}>>>>{links}>>");
    }

    private void Write(PdfLink link, int number, int parent, IReadOnlyList<PdfPage> pages)
    {
        var height = pages[link.Page].Height;
        var where = link.Target is { } target ? $"/Dest{Destination(target, pages)}" : $"/A<</S/URI/URI{PdfFile.Text(link.Address)}>>";
        _file.Set(number,
            $"<</Type/Annot/Subtype/Link/Rect[{PdfFile.Number(link.X)} {PdfFile.Number(height - link.Y - link.Height)} {PdfFile.Number(link.X + link.Width)} {PdfFile.Number(height - link.Y)}]"
            + $"/Border[0 0 0]/F 4/StructParent {parent}/Contents{PdfFile.Text(link.Says)}{where}>>");
    }

    private string Destination(PdfTarget target, IReadOnlyList<PdfPage> pages) => $"[{_pages[target.Page]} 0 R/XYZ 0 {PdfFile.Number(pages[target.Page].Height - target.Y)} null]";

    private int ParentTree(IReadOnlyList<PdfPage> pages)
    {
        var entries = new StringBuilder();
        foreach (var page in pages) entries.Append(CultureInfo.InvariantCulture, $"{page.Number}[{string.Join(' ', page.Marks.Select(element => $"{_elements[element]} 0 R"))}]");
        var owners = _elements.Keys.SelectMany(element => element.Kids.OfType<PdfLink>().Select(link => (Link: link, Element: element))).OrderBy(pair => _links[pair.Link].Parent);
        foreach (var (link, element) in owners) entries.Append(CultureInfo.InvariantCulture, $"{_links[link].Parent} {_elements[element]} 0 R ");
        return _file.Add($"<</Nums[{entries}]>>");
    }

    private int Outline(IReadOnlyList<PdfBookmark> bookmarks, IReadOnlyList<PdfPage> pages)
    {
        var top = _file.Reserve();
        int[] numbers = [.. bookmarks.Select(_ => _file.Reserve())];
        int[] ParentsOf(int level) => [.. Enumerable.Range(0, bookmarks.Count).Where(index => bookmarks[index].Level == level)];
        var parts = ParentsOf(1);
        for (var index = 0; index < bookmarks.Count; index++)
        {
            var bookmark = bookmarks[index];
            int[] siblings = bookmark.Level == 1 ? parts : Within(bookmarks, Owner(bookmarks, index));
            var place = Array.IndexOf(siblings, index);
            var parent = bookmark.Level == 1 ? top : numbers[Owner(bookmarks, index)];
            var kids = bookmark.Level == 1 ? Within(bookmarks, index) : [];
            _file.Set(numbers[index],
                $"<</Title{PdfFile.Text(bookmark.Title)}/Parent {parent} 0 R/Dest{Destination(bookmark.Target, pages)}"
                + (place > 0 ? $"/Prev {numbers[siblings[place - 1]]} 0 R" : "")
                + (place < siblings.Length - 1 ? $"/Next {numbers[siblings[place + 1]]} 0 R" : "")
                + (kids.Length > 0 ? $"/First {numbers[kids[0]]} 0 R/Last {numbers[kids[^1]]} 0 R/Count -{kids.Length}" : "") + ">>");
        }

        _file.Set(top, parts.Length == 0 ? "<</Type/Outlines>>" : $"<</Type/Outlines/First {numbers[parts[0]]} 0 R/Last {numbers[parts[^1]]} 0 R/Count {parts.Length}>>");
        return top;
    }

    private static int Owner(IReadOnlyList<PdfBookmark> bookmarks, int index)
    {
        while (index > 0 && bookmarks[index].Level > 1) index--;
        return index;
    }

    private static int[] Within(IReadOnlyList<PdfBookmark> bookmarks, int owner)
    {
        var kids = new List<int>();
        for (var index = owner + 1; index < bookmarks.Count && bookmarks[index].Level > 1; index++) kids.Add(index);
        return [.. kids];
    }

    private string Metadata()
    {
        static string X(string text) => System.Security.SecurityElement.Escape(text) ?? "";
        var date = Date.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture);
        var identity = new Guid(Identity.AsSpan(0, 16));
        return "<?xpacket begin=\"\uFEFF\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\n<x:xmpmeta xmlns:x=\"adobe:ns:meta/\"><rdf:RDF xmlns:rdf=\"http://www.w3.org/1999/02/22-rdf-syntax-ns#\">"
            + "<rdf:Description rdf:about=\"\" xmlns:dc=\"http://purl.org/dc/elements/1.1/\" xmlns:xmp=\"http://ns.adobe.com/xap/1.0/\" xmlns:pdf=\"http://ns.adobe.com/pdf/1.3/\" xmlns:xmpMM=\"http://ns.adobe.com/xap/1.0/mm/\">"
            + $"<dc:format>application/pdf</dc:format><dc:title><rdf:Alt><rdf:li xml:lang=\"x-default\">{X(Title)}</rdf:li></rdf:Alt></dc:title>"
            + (Author.Length > 0 ? $"<dc:creator><rdf:Seq><rdf:li>{X(Author)}</rdf:li></rdf:Seq></dc:creator>" : "")
            + $"<dc:description><rdf:Alt><rdf:li xml:lang=\"x-default\">{X(Subject)}</rdf:li></rdf:Alt></dc:description><dc:language><rdf:Bag><rdf:li>{X(Language)}</rdf:li></rdf:Bag></dc:language>"
            + (Date == default ? "" : $"<xmp:CreateDate>{date}</xmp:CreateDate><xmp:ModifyDate>{date}</xmp:ModifyDate>") + $"<xmp:CreatorTool>{X(Producer)}</xmp:CreatorTool><pdf:Producer>{X(Producer)}</pdf:Producer>"
            + $"<xmpMM:DocumentID>uuid:{identity}</xmpMM:DocumentID><xmpMM:InstanceID>uuid:{identity}</xmpMM:InstanceID>"
            + "</rdf:Description></rdf:RDF></x:xmpmeta>\n<?xpacket end=\"r\"?>";
    }
}
