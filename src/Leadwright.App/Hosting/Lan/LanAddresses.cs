using System.Net;
using System.Net.NetworkInformation;
using System.Net.Sockets;

namespace Leadwright.App.Hosting.Lan;

/// <summary>The addresses under which other devices of the local network reach this computer.</summary>
internal static class LanAddresses
{
    /// <summary>IPv4 addresses of the interfaces that are up, those with a way out first; empty when there is no network.</summary>
    public static IReadOnlyList<IPAddress> Find()
    {
        try
        {
            return [.. NetworkInterface.GetAllNetworkInterfaces()
                .Where(face => face.OperationalStatus == OperationalStatus.Up && face.NetworkInterfaceType != NetworkInterfaceType.Loopback)
                .Select(face => face.GetIPProperties())
                .OrderByDescending(properties => properties.GatewayAddresses.Count)
                .SelectMany(properties => properties.UnicastAddresses)
                .Select(address => address.Address)
                .Where(address => address.AddressFamily == AddressFamily.InterNetwork)];
        }
        catch (NetworkInformationException)
        {
            return [];
        }
    }
}
