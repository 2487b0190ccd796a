namespace Leadwright.Client.Controls;

/// <summary>A text that was typed into a field.</summary>
/// <param name="Key">The field's key.</param>
/// <param name="Text">The whole text in it now.</param>
public sealed record TypedText(string Key, string Text);
