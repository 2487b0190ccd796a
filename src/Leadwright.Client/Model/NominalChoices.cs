using System.Collections.Immutable;
using Leadwright.Core.Circuits;

namespace Leadwright.Client.Model;

/// <summary>The nominal voltages that are met most, offered as buttons; any other can be typed.</summary>
/// <remarks>Common practice; 230/400, 120/208, 277/480, 347/600 and 120/240 V are also in table 1 of IEC 60038 and in ANSI C84.1
/// (from memory).</remarks>
public static class NominalChoices
{
    /// <summary>The usual values of a service, the commonest first.</summary>
    public static ImmutableArray<string> Of(ServiceKind service) => service switch
    {
        ServiceKind.Wye => ["230/400", "120/208", "277/480", "347/600", "240/415", "127/220"],
        ServiceKind.Delta or ServiceKind.DeltaTwoClamp => ["400", "480", "208", "240", "600", "690"],
        ServiceKind.Split => ["120/240", "230/460"],
        ServiceKind.HighLeg => ["120/240"],
        ServiceKind.Network => ["120/208", "277/480", "127/220", "230/400"],
        _ => ["230", "120", "240", "277"],
    };
}
