namespace Leadwright.Core.Mending.Maps;

/// <summary>How one value of power came about.</summary>
internal enum PowerState : byte
{
    /// <summary>As it was written.</summary>
    Measured,

    /// <summary>By arithmetic from what was measured.</summary>
    Mended,

    /// <summary>To be estimated; the current of the line is known.</summary>
    NeedsFactor,

    /// <summary>To be estimated; nothing of the line is known.</summary>
    NeedsShare,

    /// <summary>To be estimated, and at least what was shown.</summary>
    AtLeast,

    /// <summary>Estimated.</summary>
    Modelled,
}

/// <summary>What each line (element) really carried, by slot, as far as it is known.</summary>
internal sealed class LineSeries
{
    /// <summary>By how much a line's power factor lies off the others', as a share of it (our choice).</summary>
    public const double FactorsApart = 0.1;

    public LineSeries(int count)
    {
        for (var line = 0; line < 3; line++)
        {
            (Watts[line], Vars[line], Amperes[line], Volts[line]) = (New(count), New(count), New(count), New(count));
            (States[line], VoltStates[line], AmpereStates[line]) = (new PowerState[count], new PowerState[count], new PowerState[count]);
        }

        LeadOf = [new sbyte[count], new sbyte[count], new sbyte[count]];
        ClampOf = [new sbyte[count], new sbyte[count], new sbyte[count]];
        ClipShares = [new double[count], new double[count], new double[count]];
        CutExcess = [New(count), New(count), New(count)];
        Shown = [New(count), New(count), New(count)];
        CutErrors = [new double[count], new double[count], new double[count]];
        Scales = [New(count), New(count), New(count)];
        ClampsLost = new byte[count];
        ByFactors = New(count);
    }

    public double[][] Watts { get; } = new double[3][];

    public double[][] Vars { get; } = new double[3][];

    /// <summary>Rms current of the line.</summary>
    public double[][] Amperes { get; } = new double[3][];

    /// <summary>Rms voltage of the line to neutral, or of the pair from it on three wires.</summary>
    public double[][] Volts { get; } = new double[3][];

    public PowerState[][] States { get; } = new PowerState[3][];

    public PowerState[][] VoltStates { get; } = new PowerState[3][];

    public PowerState[][] AmpereStates { get; } = new PowerState[3][];

    /// <summary>Number of the lead that stood on the line; −1 for none.</summary>
    public sbyte[][] LeadOf { get; }

    /// <summary>Number of the clamp that sat on the line; −1 for none.</summary>
    public sbyte[][] ClampOf { get; }

    /// <summary>By what that clamp's reading was divided, its sign included.</summary>
    public double[][] Scales { get; }

    /// <summary>How much of each slot the clamp of the line stood at the end of its range, 0 to 1.</summary>
    public double[][] ClipShares { get; }

    /// <summary>By what share of what it showed the line carried more, where the crests of its waves were cut and what is shown tells how much; NaN elsewhere.</summary>
    public double[][] CutExcess { get; }

    /// <summary>Standard uncertainty of that, of what was shown; infinite where only its order is known.</summary>
    public double[][] CutErrors { get; }

    /// <summary>Watts that were shown where more flowed than a clamp could show: at least that; NaN elsewhere.</summary>
    public double[][] Shown { get; }

    /// <summary>Where the total is the only power: the clamps whose current was not a line's own, a bit each.</summary>
    public byte[] ClampsLost { get; }

    /// <summary>Where the total is the only power and told what the lines' loads draw: the watts that this makes of the currents; NaN elsewhere.</summary>
    public double[] ByFactors { get; }

    /// <summary>How well those are known, as a share of them.</summary>
    public double FactorsUncertainty { get; set; }

    /// <summary>Where the total is the only power and was put right for ratios: the watt-hours that a line's power factor, off from the others', moves in proportion, by clamp.</summary>
    public double[] SharesMoved { get; } = new double[3];

    /// <summary>While the neutral lead was in the air: what flowed in the neutral times the way between it and the inputs' star point, watt-hours.</summary>
    public double StarPointWattHours { get; set; }

    private static double[] New(int count)
    {
        var values = new double[count];
        Array.Fill(values, double.NaN);
        return values;
    }
}
