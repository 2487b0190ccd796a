using Leadwright.Core.Circuits;

namespace Leadwright.Client.Model;

/// <summary>The conductor colours of the site that a draft names.</summary>
public static class SiteColours
{
    /// <summary>The scheme that a draft names; that of IEC 60445 when there is no such scheme.</summary>
    public static ColourScheme SchemeOf(string id) => ConductorColours.WithId(id) ?? ConductorColours.All[0];

    /// <summary>The scheme's name for lists, such as <c>USA, 120/208Y</c>.</summary>
    public static string NameOf(ColourScheme scheme)
    {
        ArgumentNullException.ThrowIfNull(scheme);
        return scheme.System == "general" ? scheme.Region : $"{scheme.Region}, {scheme.System}";
    }
}
