using Leadwright.Core.Hookups.Settling;

namespace Leadwright.Core.Practice;

/// <summary>The actions by their names.</summary>
public static class PracticeActions
{
    /// <summary>The action with a name, such as <c>meter:V1-B</c>, in any case; null when there is none.</summary>
    /// <param name="name">The name; see <see cref="SettlingAction.Id"/>.</param>
    public static SettlingAction? Named(string? name) => SettlingText.ReadAction((name ?? "").Trim(), out _);
}
