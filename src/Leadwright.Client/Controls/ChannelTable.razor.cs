using System.Globalization;
using Leadwright.Client.Model;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Signals;
using Microsoft.AspNetCore.Components;

namespace Leadwright.Client.Controls;

/// <summary>Which channel of a file is which of the recorder's, to look over and to change.</summary>
public sealed partial class ChannelTable : ComponentBase
{
    /// <summary>The recording.</summary>
    [Parameter, EditorRequired]
    public LoadedRecording Recording { get; set; } = null!;

    /// <summary>The service, which says what channels are wanted.</summary>
    [Parameter, EditorRequired]
    public ServiceKind Service { get; set; }

    /// <summary>Told with the changed recording; with null to go back to typing.</summary>
    [Parameter]
    public EventCallback<LoadedRecording?> Changed { get; set; }

    private static string Named(SampledChannel channel) =>
        channel.Unit.Length > 0 ? $"{channel.Name} ({channel.Unit})" : channel.Name;

    private IEnumerable<Channel> Wanted() => ReadingSheet.Voltages(Service)
        .Concat(ReadingSheet.Currents(Service))
        .Concat(ReadingSheet.HasNeutral(Service) ? [Channel.IN] : Enumerable.Empty<Channel>())
        .Union(Recording.Match.Keys).Order();

    private Task Choose(Channel channel, string? text) => Changed.InvokeAsync(
        Recording.WithMatch(channel, int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var index) ? index : null));
}
