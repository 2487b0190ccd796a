using Bunit;
using Leadwright.Client.Devices;
using Leadwright.Client.Model.Shown;
using Leadwright.Client.Model.Waiting;
using Microsoft.Extensions.DependencyInjection;

namespace Leadwright.Client.Tests;

/// <summary>Renders screens on a device that only remembers, with numbers as in English.</summary>
public abstract class ScreenContext : BunitContext
{
    private protected ScreenContext()
    {
        Services.AddSingleton<IDevice>(Device);
        Services.AddSingleton(TimeProvider.System);
        Services.AddSingleton<ShownText>();
        Services.AddSingleton<WaitingShelf>();
    }

    private protected KeptTexts Device { get; } = new();
}
