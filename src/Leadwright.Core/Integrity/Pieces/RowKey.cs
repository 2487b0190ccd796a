namespace Leadwright.Core.Integrity.Pieces;

/// <summary>What all chains say of one row: the state of the voltages, the turn of each channel's power, the scale of each clamp.</summary>
/// <param name="Voltage">Number of the state of the voltages.</param>
/// <param name="Turns">Numbers of the turns of channels 1 to 3, four bits each; 15 where nothing tells.</param>
/// <param name="Scales">Numbers of the scales of the four clamps, four bits each.</param>
internal readonly record struct RowKey(byte Voltage, ushort Turns, ushort Scales)
{
    public int Turn(int channel) => (Turns >> (4 * channel)) & 15;

    public int Scale(int clamp) => (Scales >> (4 * clamp)) & 15;

    /// <summary>True when each part is that of one row or of the other: an interval in which the change fell.</summary>
    public bool IsBetween(RowKey left, RowKey right)
    {
        if (Voltage != left.Voltage && Voltage != right.Voltage) return false;
        for (var index = 0; index < 4; index++)
        {
            if (index < 3 && Turn(index) != left.Turn(index) && Turn(index) != right.Turn(index)) return false;
            if (Scale(index) != left.Scale(index) && Scale(index) != right.Scale(index)) return false;
        }

        return true;
    }
}

/// <summary>Rows with one key.</summary>
/// <param name="From">First row.</param>
/// <param name="To">Last row.</param>
/// <param name="Key">The key.</param>
internal sealed record RowPiece(int From, int To, RowKey Key)
{
    public int Length => To - From + 1;
}
