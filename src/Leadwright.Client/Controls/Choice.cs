namespace Leadwright.Client.Controls;

/// <summary>One answer to a question.</summary>
/// <typeparam name="TValue">What is chosen.</typeparam>
/// <param name="Value">The value that it stands for.</param>
/// <param name="Title">Its name.</param>
/// <param name="Detail">A line under it; empty for none.</param>
public sealed record Choice<TValue>(TValue Value, string Title, string Detail = "");
