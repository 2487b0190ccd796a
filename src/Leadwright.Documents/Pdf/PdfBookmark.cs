namespace Leadwright.Documents.Pdf;

/// <summary>A bookmark of the document's outline.</summary>
/// <param name="Title">What it says.</param>
/// <param name="Level">1 for a part, 2 for what is within.</param>
/// <param name="Target">Where it leads.</param>
internal sealed record PdfBookmark(string Title, int Level, PdfTarget Target);
