using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;

namespace Leadwright.Core.Mending.Maps;

/// <summary>One piece of the hook-up's history in numbers: where leads and clamps were.</summary>
internal sealed class HookupMap
{
    public HookupMap(HookupPiece piece, RawSeries raw)
    {
        Piece = piece;
        IsAcb = piece.Rotation == Rotation.Acb;
        for (var lead = 0; lead < 4; lead++)
            Leads[lead] = piece.Hookup.Leads.TryGetValue((Lead)lead, out var on) ? on is { } conductor ? (int)conductor : -1 : lead;
        for (var clamp = 0; clamp < 4; clamp++)
        {
            var place = piece.Hookup.Clamps.TryGetValue((Clamp)clamp, out var known) ? known : ClampPlace.Right((Conductor)clamp);
            Clamps[clamp] = place.On is { } on && (int)on < 4 ? (int)on : -1;
            Signs[clamp] = (place.Reversed ? -1 : 1) * place.Scale;
        }

        LeadsAreRight = true;
        for (var lead = 0; lead < raw.Lines; lead++) LeadsAreRight &= Leads[lead] == lead;
        IsStarPoint = LeadsAreRight && !raw.IsThreeWire && raw.Lines > 1 && Leads[3] < 0;
        if (!raw.IsThreeWire) LeadsAreRight &= Leads[3] == 3;
        ClampsAreRight = raw.Elements.All(clamp => Clamps[clamp] == clamp && Signs[clamp] == 1);
    }

    /// <summary>True when every clamp of an element is where it should be, the right way round and at its ratio.</summary>
    public bool ClampsAreRight { get; }

    public HookupPiece Piece { get; }

    public bool IsAcb { get; }

    /// <summary>Conductor of each lead; −1 for the air.</summary>
    public int[] Leads { get; } = new int[4];

    /// <summary>Conductor in each clamp; −1 for none.</summary>
    public int[] Clamps { get; } = new int[4];

    /// <summary>By what each clamp's reading must be divided, negative when it is turned.</summary>
    public double[] Signs { get; } = new double[4];

    /// <summary>True when every voltage is where it should be.</summary>
    public bool LeadsAreRight { get; }

    /// <summary>True when every lead but the neutral's is where it should be, and that is in the air.</summary>
    public bool IsStarPoint { get; }

    /// <summary>True when the element of a line reads the same in another piece.</summary>
    public bool IsSame(HookupMap other, int line, bool needsAllLeads)
    {
        if (Leads[3] != other.Leads[3] || IsAcb != other.IsAcb) return false;
        for (var lead = 0; lead < 3; lead++)
        {
            if ((lead == line || needsAllLeads) && Leads[lead] != other.Leads[lead]) return false;
        }

        return Clamps[line] == other.Clamps[line] && Signs[line] == other.Signs[line];
    }
}
