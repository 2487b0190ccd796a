using System.Runtime.CompilerServices;
using System.Text;
using Leadwright.Core.Logs;
using Leadwright.Formats.Comtrade;
using Leadwright.Formats.Csv;
using Leadwright.Formats.Logs;
using Leadwright.Formats.Text;

namespace Leadwright.Formats.Tests.Logs;

/// <summary>Headings in code pages; their bytes were written by the codecs of Python 3.</summary>
public sealed class EncodingTests
{
    [ModuleInitializer]
    internal static void Register() => Encoding.RegisterProvider(CodePagesEncodingProvider.Instance);

    [Theory]
    [InlineData("gb18030", "yrG85DtMMbXn0bkoVik7TDG158H3KEEpO9fc09C5prmmwsooa1cpO8a1wsooSHop", "L1电压(V)")]
    [InlineData("big5", "rsm2oTtMMblxwKMoVik7TDG5cax5KEEpO7PGtfk=", "L1電壓(V)")]
    [InlineData("shift_jis", "jp6NjzuTZIizTDEoVik7k2SXrEwxKEEp", "電圧L1(V)")]
    [InlineData("euc-kr", "vcOwozvA/L7QIEwxIChWKTvA/Lf5IEwxIChBKQ==", "전압 L1 (V)")]
    public void Words_of_the_trade_settle_the_code_page_and_it_is_said(string name, string heads, string voltage)
    {
        var file = ReadLog.Of(Table(heads));
        Assert.Equal(voltage, file.Columns[1].Heading);
        Assert.Equal((LogQuantity.Voltage, LogPlace.Phase1), (file.Columns[1].Quantity, file.Columns[1].Place));
        Assert.Contains(file.Warnings, warning => warning.Says.Contains($"it is read as {name}, in which its words are known", StringComparison.Ordinal));
    }

    [Fact]
    public void Noise_of_mixed_case_is_no_word_of_the_trade()
    {
        // 'Zeit;零序 L1 (A)' in GB 18030: as Windows-1257 its letters are 'ĮćŠņ', which in pieces would be Ic and Sn.
        var file = ReadLog.Of(Table("WmVpdDvB49DyIEwxIChBKQ=="));
        Assert.DoesNotContain(file.Warnings, warning => warning.Says.Contains("its words are known", StringComparison.Ordinal));
        Assert.Contains(file.Warnings, warning => warning.Says.Contains("state the encoding", StringComparison.Ordinal));
    }

    [Fact]
    public void Letters_of_western_europe_are_read_as_ever_and_nothing_is_said()
    {
        var file = ReadLog.Of(Table("WmVpdDtTdHL2bWUgTDEgKEEpO0dy9t9lILBD"));
        Assert.Equal(["Zeit", "Ströme L1 (A)", "Größe °C"], file.Columns.Select(column => column.Heading));
        Assert.DoesNotContain(file.Warnings, warning => warning.Says.Contains("UTF-8", StringComparison.Ordinal));
    }

    [Fact]
    public void What_no_word_settles_is_read_as_Windows_1252_and_said_and_read_otherwise_when_a_person_says_so()
    {
        // 'Zaman;Gerilim L1 (V);Akım L1 (A);Güç (kW)' in Windows-1254; 'Ток L1 (A)' in Windows-1251.
        var cyrillic = Table("VGltZTvS7uogTDEgKEEp");
        var file = ReadLog.Of(cyrillic);
        Assert.Contains(file.Warnings, warning => warning.Says.Contains("Windows-1252 is taken. Where names look wrong, state the encoding.", StringComparison.Ordinal));
        Assert.Equal("Òîê L1 (A)", file.Columns[1].Heading);
        var stated = ReadLog.Of(cyrillic, new LogReadOptions { Encoding = TextEncodings.Find("windows-1251") });
        Assert.Equal("Ток L1 (A)", stated.Columns[1].Heading);
        Assert.DoesNotContain(stated.Warnings, warning => warning.Says.Contains("UTF-8", StringComparison.Ordinal));
        Assert.Equal("Akım L1 (A)", ReadLog.Of(Table("WmFtYW47R2VyaWxpbSBMMSAoVik7QWv9bSBMMSAoQSk7R/znIChrVyk="), new LogReadOptions { Encoding = TextEncodings.Find("windows-1254") }).Columns[2].Heading);
    }

    [Fact]
    public void A_mark_of_the_text_itself_wins_over_what_was_said()
    {
        var text = "Time;Ströme L1 (A)\n" + Rows(1);
        var marked = new InputFile("a.csv", (byte[])[.. Encoding.UTF8.Preamble, .. Encoding.UTF8.GetBytes(text)]);
        Assert.Equal("Ströme L1 (A)", ReadLog.Of(marked, new LogReadOptions { Encoding = TextEncodings.Find("gb18030") }).Columns[1].Heading);
        var wide = new InputFile("a.csv", Encoding.BigEndianUnicode.GetBytes(text));
        Assert.Equal("Ströme L1 (A)", ReadLog.Of(wide, new LogReadOptions { Encoding = TextEncodings.Find("utf-16be") }).Columns[1].Heading);
    }

    [Fact]
    public void Channels_of_samples_and_of_fault_records_bear_their_names_too()
    {
        var rows = string.Concat(Enumerable.Range(0, 40).Select(row => FormattableString.Invariant($"{row / 1000.0:0.000},{Math.Sin(row):0.000}\n")));
        byte[] table = [.. "t (s),"u8, .. Convert.FromBase64String("TDG159G5KFYp"), .. Encoding.ASCII.GetBytes("\n" + rows)];
        var read = CsvSampleReader.Read(new InputFile("a.csv", table));
        Assert.Equal("L1电压", read.Recording.Channels[0].Name);
        Assert.Contains(read.Warnings, warning => warning.Says.Contains("gb18030", StringComparison.Ordinal));

        byte[] cfg =
        [
            .. "SITE,1,1999\n1,1A,0D\n1,"u8, .. Convert.FromBase64String("Qc/gtefRuQ=="), .. ",,,V,1,0,0,-32767,32767,1,1,P\n50\n1\n1000,2\n01/01/2026,00:00:00.000000\n01/01/2026,00:00:00.000000\nASCII\n1\n"u8,
        ];
        var dat = new InputFile("a.dat", "1,0,5\n2,1000,6\n"u8.ToArray());
        var record = ComtradeReader.Read(new InputFile("a.cfg", cfg), dat, new ComtradeReadOptions { Encoding = TextEncodings.Find("gb18030") });
        Assert.Equal("A相电压", record.Configuration.Analogs[0].Id);
    }

    [Fact]
    public void Of_many_columns_that_nobody_understands_for_one_reason_the_first_are_named()
    {
        var heads = string.Join(';', Enumerable.Range(1, 30).Select(column => $"Zorb {column}"));
        var rows = string.Concat(Enumerable.Range(0, 20).Select(row => FormattableString.Invariant($"2026-03-13 {row:00}:00;{string.Join(';', Enumerable.Range(1, 30).Select(column => (column * 1000) + row))}\n")));
        var file = ReadLog.Of(TestData.Text("a.csv", $"Time;{heads}\n{rows}"));
        var told = Assert.Single(file.Warnings, warning => warning.Says.Contains("under their own name", StringComparison.Ordinal)).Says;
        Assert.StartsWith("30 columns are kept under their own name: ", told, StringComparison.Ordinal);
        Assert.EndsWith("'Zorb 1', 'Zorb 2', 'Zorb 3', 'Zorb 4', 'Zorb 5', 'Zorb 6', 'Zorb 7', 'Zorb 8' and 22 more.", told, StringComparison.Ordinal);
        Assert.Contains(LogQuestions.Columns, file.Questions);
    }

    [Fact]
    public void Names_that_are_none_are_none() => Assert.Null(TextEncodings.Find("no-such-page"));

    private static InputFile Table(string heads)
    {
        var bytes = Convert.FromBase64String(heads);
        var count = bytes.Count(unit => unit == ';');
        return new InputFile("a.csv", (byte[])[.. bytes, (byte)'\n', .. Encoding.ASCII.GetBytes(Rows(count))]);
    }

    private static string Rows(int count) => string.Concat(Enumerable.Range(0, 20).Select(row =>
        FormattableString.Invariant($"2026-03-02 {row / 4:00}:{row % 4 * 15:00};{string.Join(';', Enumerable.Range(0, count).Select(column => FormattableString.Invariant($"{20 + row + (0.5 * column)}")))}\n")));
}
