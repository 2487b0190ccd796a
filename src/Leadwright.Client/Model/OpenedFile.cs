using System.Collections.Immutable;
using Leadwright.Core.Hookups;

namespace Leadwright.Client.Model;

/// <summary>What was found in the files that a person dropped or picked.</summary>
public sealed record OpenedFile(LoadedRecording? Recording, PanelReadings? Readings, string Name, string Problem)
{
    /// <summary>x</summary>
    public static OpenedFile Of(ImmutableArray<Formats.InputFile> files) => new(null, null, files[0].Name, "later");
}
