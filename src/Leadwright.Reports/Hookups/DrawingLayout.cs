using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;

namespace Leadwright.Reports.Hookups;

/// <summary>Where everything stands in the hook-up drawing: a column for each conductor, a row for each lead and clamp, and a
/// column on the left for what is in the air.</summary>
internal sealed class DrawingLayout
{
    /// <summary>Width of the drawing in its own units, which are pixels on a small phone.</summary>
    public const double Width = 358;

    /// <summary>Top of the conductors' plates.</summary>
    public const double PlateTop = 34;

    /// <summary>Height of the conductors' plates.</summary>
    public const double PlateHeight = 44;

    private const double LeadRow = 48;
    private const double ClampRow = 58;
    private const double AirWidth = 62;
    private const double Margin = 8;

    private readonly double _spacing;
    private readonly double _left;
    private readonly Dictionary<Lead, double> _leadRows = [];
    private readonly Dictionary<Clamp, double> _clampRows = [];

    /// <summary>Lays out a hook-up.</summary>
    public DrawingLayout(Service service, Hookup hookup)
    {
        var used = hookup.Leads.Values.Concat(hookup.Clamps.Values.Select(place => place.On)).OfType<Conductor>()
            .Concat(hookup.Leads.Keys.Select(Service.HomeOf)).Concat(hookup.Clamps.Keys.Select(Service.HomeOf));
        Conductors = [.. service.Conductors.Union(used).Order()];
        HasAir = hookup.Leads.Values.Any(place => place is null) || hookup.Clamps.Values.Any(place => place.On is null);
        var air = HasAir ? AirWidth : 0;
        var room = Width - air - (2 * Margin);
        _spacing = Math.Min(100, room / Conductors.Length);
        _left = air + Margin + ((room - (_spacing * Conductors.Length)) / 2);

        var y = PlateTop + PlateHeight + 6;
        foreach (var lead in hookup.Leads.Keys)
        {
            _leadRows[lead] = y + 30;
            y += LeadRow;
        }

        foreach (var clamp in hookup.Clamps.Keys)
        {
            _clampRows[clamp] = y + 37;
            y += ClampRow;
        }

        BarBottom = y + 12;
        Height = BarBottom + 30;
    }

    /// <summary>The conductors drawn, from left to right.</summary>
    public ImmutableArray<Conductor> Conductors { get; }

    /// <summary>True when something is in the air.</summary>
    public bool HasAir { get; }

    /// <summary>Lower end of the conductors.</summary>
    public double BarBottom { get; }

    /// <summary>Height of the drawing.</summary>
    public double Height { get; }

    /// <summary>Width of a conductor's plate.</summary>
    public double PlateWidth => Math.Min(_spacing - 6, 84);

    /// <summary>Middle of the column of a conductor, or of the air.</summary>
    public double X(Conductor? conductor) =>
        conductor is { } on ? _left + (_spacing * (Conductors.IndexOf(on) + 0.5)) : Margin + (AirWidth / 2) - 1;

    /// <summary>Middle of the row of a lead.</summary>
    public double Y(Lead lead) => _leadRows[lead];

    /// <summary>Middle of the row of a clamp.</summary>
    public double Y(Clamp clamp) => _clampRows[clamp];
}
