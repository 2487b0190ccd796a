using System.Text;
using Leadwright.Core.Logs;

namespace Leadwright.Formats.Tests.Logs;

/// <summary>Every shape a recorder may export: the same three rows of a quarter of an hour must come out.</summary>
public sealed class LogShapesTests
{
    public static TheoryData<string, string> Shapes => new()
    {
        { "plain", "time,V1 (V),I1 (A),P1 (W)\n2026-03-02 10:00,230.1,5.25,1200\n2026-03-02 10:15,231,6,1300.5\n2026-03-02 10:30,229.5,4.5,1000\n" },
        { "iso with zone", "time,V1 (V),I1 (A),P1 (W)\n2026-03-02T10:00:00+01:00,230.1,5.25,1200\n2026-03-02T10:15:00+01:00,231,6,1300.5\n2026-03-02T09:30:00Z,229.5,4.5,1000\n" },
        { "decimal comma", "Zeit;U L1 [V];I L1 [A];P L1 [W]\n02.03.2026 10:00:00;230,1;5,25;1.200,0\n02.03.2026 10:15:00;231;6;1.300,5\n02.03.2026 10:30:00;229,5;4,5;1.000,0\n" },
        { "quoted comma", "\"Time\",\"V1 (V)\",\"I1 (A)\",\"P1 (W)\"\n\"13/03/2026 10:00\",\"230,1\",\"5,25\",\"1200\"\n\"13/03/2026 10:15\",\"231,0\",\"6\",\"1300,5\"\n\"13/03/2026 10:30\",\"229,5\",\"4,5\",\"1000\"\n" },
        { "split date and time", "Date\tTime\tV1 V\tI1 A\tP1 kW\n03/13/2026\t10:00:00 AM\t230.1\t5.25\t1.2\n03/13/2026\t10:15:00 AM\t231\t6\t1.3005\n03/13/2026\t10:30:00 AM\t229.5\t4.5\t1.0\n" },
        { "unit row", "Time|Urms L1|Irms L1|Active power L1\n|V|A|kW\n2026-03-02 10:00|230.1|5.25|1.2\n2026-03-02 10:15|231|6|1.3005\n2026-03-02 10:30|229.5|4.5|1\n" },
        { "group row", "Time,Phase 1,,\n,Voltage [V],Current [A],Power [W]\n2026-03-02 10:00,230.1,5.25,1200\n2026-03-02 10:15,231,6,1300.5\n2026-03-02 10:30,229.5,4.5,1000\n" },
        { "preamble", "Some recorder\nSerial: 12\nStart: 2026-03-02 10:00\n\nTime;V1_kV;I1_mA;P1_W\n2026-03-02 10:00;0.2301;5250;1200\n2026-03-02 10:15;0.231;6000;1300.5\n2026-03-02 10:30;0.2295;4500;1000\n" },
        { "blanks", "Date        Time      V1_V   I1_A  P1_W\n2026-03-02  10:00:00  230.1  5.25  1200\n2026-03-02  10:15:00  231.0  6.0   1300.5\n2026-03-02  10:30:00  229.5  4.5   1000\n" },
        { "epoch", "timestamp,V1_V,I1_A,P1_W\n1772445600,230.1,5.25,1200\n1772446500,231,6,1300.5\n1772447400,229.5,4.5,1000\n" },
        { "epoch ms", "timestamp,V1_V,I1_A,P1_W\n1772445600000,230.1,5.25,1200\n1772446500000,231,6,1300.5\n1772447400000,229.5,4.5,1000\n" },
        { "serial days", "Date;V1_V;I1_A;P1_W\n46083,4166666667;230,1;5,25;1200\n46083,4270833333;231;6;1300,5\n46083,4375;229,5;4,5;1000\n" },
        { "compact", "Datum;V1_V;I1_A;P1_W\n202603021000;230,1;5,25;1200\n202603021015;231;6;1300,5\n202603021030;229,5;4,5;1000\n" },
        { "month names", "Time,V1_V,I1_A,P1_W\n2-Mar-2026 10:00,230.1,5.25,1200\n2-Mar-2026 10:15,231,6,1300.5\n2-Mar-2026 10:30,229.5,4.5,1000\n" },
        { "month first by name", "Time;V1_V;I1_A;P1_W\nMar 2, 2026 10:00;230.1;5.25;1200\nMar 2, 2026 10:15;231;6;1300.5\nMar 2, 2026 10:30;229.5;4.5;1000\n" },
        { "newest first", "time,V1 (V),I1 (A),P1 (W)\n2026-03-02 10:30,229.5,4.5,1000\n2026-03-02 10:15,231,6,1300.5\n2026-03-02 10:00,230.1,5.25,1200\n" },
        { "ends", "end of interval,V1 (V),I1 (A),P1 (W)\n2026-03-02 10:15,230.1,5.25,1200\n2026-03-02 10:30,231,6,1300.5\n2026-03-02 10:45,229.5,4.5,1000\n" },
        { "start and end", "from,to,V1 (V),I1 (A),P1 (W)\n2026-03-02 10:00,2026-03-02 10:15,230.1,5.25,1200\n2026-03-02 10:15,2026-03-02 10:30,231,6,1300.5\n2026-03-02 10:30,2026-03-02 10:45,229.5,4.5,1000\n" },
        { "range", "day;interval;V1 (V);I1 (A);P1 (W)\n02.03.2026;10:00 - 10:15;230.1;5.25;1200\n02.03.2026;10:15 - 10:30;231;6;1300.5\n02.03.2026;10:30 - 10:45;229.5;4.5;1000\n" },
        { "units in cells", "time;V1;I1;P1\n2026-03-02 10:00;230.1 V;5.25 A;1.2 kW\n2026-03-02 10:15;231 V;6 A;1.3005 kW\n2026-03-02 10:30;229.5 V;4.5 A;1000 W\n" },
        { "footer and repeated heading", "time,V1 (V),I1 (A),P1 (W)\n2026-03-02 10:00,230.1,5.25,1200\n2026-03-02 10:15,231,6,1300.5\ntime,V1 (V),I1 (A),P1 (W)\n2026-03-02 10:30,229.5,4.5,1000\nTotal,,,3500\n" },
        { "line in a heading", "time;\"V1\n[V]\";\"I1\n[A]\";\"P1\n[W]\"\n2026-03-02 10:00;230.1;5.25;1200\n2026-03-02 10:15;231;6;1300.5\n2026-03-02 10:30;229.5;4.5;1000\n" },
        { "hint line", "sep=;\ntime;V1 (V);I1 (A);P1 (W)\n2026-03-02 10:00;230,1;5,25;1200\n2026-03-02 10:15;231,0;6;1300,5\n2026-03-02 10:30;229,5;4,5;1000\n" },
        { "french", "Date;Heure;Tension L1 (V);Courant L1 (A);Puissance active L1 (kW)\n13/03/2026;10:00;230,1;5,25;1,2\n13/03/2026;10:15;231;6;1,3005\n13/03/2026;10:30;229,5;4,5;1\n" },
        { "spanish", "Fecha;Hora;Tensión L1 (V);Corriente L1 (A);Potencia activa L1 (W)\n13/03/2026;10:00 a. m.;230,1;5,25;1.200\n13/03/2026;10:15 a. m.;231;6;1.300,5\n13/03/2026;10:30 a. m.;229,5;4,5;1.000\n" },
        { "portuguese", "Data;Hora;Tensão L1 (V);Corrente L1 (A);Potência ativa L1 (W)\n13/03/2026;10:00;230,1;5,25;1200\n13/03/2026;10:15;231;6;1300,5\n13/03/2026;10:30;229,5;4,5;1000\n" },
        { "italian", "Data;Ora;Tensione L1 (V);Corrente L1 (A);Potenza attiva L1 (W)\n13/03/2026;10:00;230,1;5,25;1200\n13/03/2026;10:15;231;6;1300,5\n13/03/2026;10:30;229,5;4,5;1000\n" },
        { "dutch", "Datum;Tijd;Spanning L1 (V);Stroom L1 (A);Werkelijk vermogen L1 (W)\n13-03-2026;10:00;230,1;5,25;1200\n13-03-2026;10:15;231;6;1300,5\n13-03-2026;10:30;229,5;4,5;1000\n" },
        { "german", "Datum;Uhrzeit;Spannung L1 Mittelwert [V];Strom L1 Mittelwert [A];Wirkleistung L1 Mittelwert [W]\n13.03.2026;10:00;230,1;5,25;1200\n13.03.2026;10:15;231;6;1300,5\n13.03.2026;10:30;229,5;4,5;1000\n" },
        { "symbols", "t;Ua;Ia;Pa\n2026-03-02 10:00;230.1;5.25;1200\n2026-03-02 10:15;231;6;1300.5\n2026-03-02 10:30;229.5;4.5;1000\n" },
        { "camel", "Timestamp,AvgVoltageL1(V),AvgCurrentL1(A),AvgPowerL1(W)\n2026-03-02 10:00,230.1,5.25,1200\n2026-03-02 10:15,231,6,1300.5\n2026-03-02 10:30,229.5,4.5,1000\n" },
        { "thousands by blank", "Temps;U1 (V);I1 (A);P1 (W)\n02/03/2026 10:00;230,1;5,25;1 200\n02/03/2026 10:15;231,0;6;1\u00A0300,5\n02/03/2026 10:30;229,5;4,5;1\u202F000\n" },
    };

    [Theory]
    [MemberData(nameof(Shapes))]
    public void A_shape_gives_the_same_log(string what, string text)
    {
        var log = ReadLog.Of(TestData.Text(what + ".csv", text)).Log;

        Assert.Equal(3, log.Count);
        Assert.Equal(900, log.IntervalSeconds);
        Assert.Equal(new TimeSpan(10, 0, 0), log.From.TimeOfDay);
        Assert.Equal((2026, 3), (log.From.Year, log.From.Month));
        Assert.Equal([230.1, 231, 229.5], Rounded(log, LogQuantity.Voltage));
        Assert.Equal([5.25, 6, 4.5], Rounded(log, LogQuantity.Current));
        Assert.Equal([1200, 1300.5, 1000], Rounded(log, LogQuantity.ActivePower));
    }

    public static TheoryData<string> Encodings => ["utf-8", "utf-8 with mark", "utf-16", "utf-16 big-endian", "utf-16 without mark", "latin-1", "windows-1252"];

    [Theory]
    [MemberData(nameof(Encodings))]
    public void Any_encoding_gives_the_same_headings(string encoding)
    {
        const string Text = "Zeit;Spannung L1 [V];Ströme L1 [A];Übertemperatur [°C]\n02.03.2026 10:00;230,1;5,25;20\n02.03.2026 10:15;231;6;21\n02.03.2026 10:30;229,5;4,5;22\n";
        var bytes = encoding switch
        {
            "utf-8" => Encoding.UTF8.GetBytes(Text),
            "utf-8 with mark" => [.. Encoding.UTF8.Preamble, .. Encoding.UTF8.GetBytes(Text)],
            "utf-16" => [.. Encoding.Unicode.Preamble, .. Encoding.Unicode.GetBytes(Text)],
            "utf-16 big-endian" => [.. Encoding.BigEndianUnicode.Preamble, .. Encoding.BigEndianUnicode.GetBytes(Text)],
            "utf-16 without mark" => Encoding.Unicode.GetBytes(Text),
            _ => Encoding.Latin1.GetBytes(Text),
        };
        if (encoding == "windows-1252") bytes = Encoding.Latin1.GetBytes(Text.Replace("Übertemperatur", "\u0080 Kosten", StringComparison.Ordinal));

        var file = ReadLog.Of(new InputFile("log.csv", bytes));

        Assert.Equal("Spannung L1 [V]", file.Columns[1].Heading);
        Assert.Equal("Ströme L1 [A]", file.Columns[2].Heading);
        Assert.StartsWith(encoding == "windows-1252" ? "€ Kosten" : "Übertemperatur", file.Columns[3].Heading, StringComparison.Ordinal);
        Assert.Equal([5.25, 6, 4.5], Rounded(file.Log, LogQuantity.Current));
        Assert.Equal(InputKind.LogTable, InputSniffer.KindOf(new InputFile("log.csv", bytes)));
    }

    private static IEnumerable<double> Rounded(IntervalLog log, LogQuantity quantity)
    {
        var index = log.IndexOf(quantity, LogPlace.Phase1);
        Assert.True(index >= 0, $"no {quantity}: {string.Join("; ", log.Columns)}");
        return log.Values(index).ToArray().Select(value => Math.Round(value, 9));
    }
}
