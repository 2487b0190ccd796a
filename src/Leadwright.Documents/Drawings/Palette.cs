namespace Leadwright.Documents.Drawings;

/// <summary>The colours of documents: ink, paper, copper, and the greys between; each pair of ink on paper has a contrast of 4.5 to 1 or more.</summary>
internal static class Palette
{
    public static readonly Colour Ink = Colour.Parse("#1f2326");
    public static readonly Colour Soft = Colour.Parse("#565c61");
    public static readonly Colour Rule = Colour.Parse("#b9b3a5");
    public static readonly Colour Faint = Colour.Parse("#dedad0");
    public static readonly Colour Board = Colour.Parse("#f4f2ec");
    public static readonly Colour Paper = Colour.Parse("#ffffff");
    public static readonly Colour Plate = Colour.Parse("#2a2e31");
    public static readonly Colour Copper = Colour.Parse("#9c4a12");
    public static readonly Colour CopperLight = Colour.Parse("#f3e2d6");
    public static readonly Colour Steel = Colour.Parse("#1f4e79");
    public static readonly Colour Verdigris = Colour.Parse("#00695c");
    public static readonly Colour Grey = Colour.Parse("#8d877a");
}
