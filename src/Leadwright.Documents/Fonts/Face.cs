namespace Leadwright.Documents.Fonts;

/// <summary>The faces that documents are set in.</summary>
internal enum Face
{
    /// <summary>Running text.</summary>
    Text,

    /// <summary>What stands out in running text.</summary>
    TextBold,

    /// <summary>Tables, drawings, notes: narrower.</summary>
    Narrow,

    /// <summary>Headings and what stands out in tables and drawings.</summary>
    NarrowBold,

    /// <summary>Letters that the others do not have.</summary>
    Fallback,
}
