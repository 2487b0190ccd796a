namespace Leadwright.Formats.Tests;

public sealed class InputSnifferTests
{
    [Theory]
    [InlineData("comtrade/relay-a/1.cfg", InputKind.ComtradeConfiguration)]
    [InlineData("comtrade/relay-a/1.dat", InputKind.ComtradeData)]
    [InlineData("comtrade/relay-a/1.hdr", InputKind.ComtradeHeader)]
    [InlineData("comtrade/basic/sample_float32.cff", InputKind.ComtradeCombined)]
    [InlineData("waveform/motor/SC_HLT_001.csv", InputKind.Table)]
    public void Published_files_are_known(string path, InputKind expected) =>
        Assert.Equal(expected, InputSniffer.KindOf(TestData.File(path)));

    [Theory]
    [InlineData("comtrade/relay-a/1.cfg", InputKind.ComtradeConfiguration)]
    [InlineData("comtrade/basic/sample_ascii.cff", InputKind.ComtradeCombined)]
    [InlineData("waveform/motor/SC_HLT_001.csv", InputKind.Table)]
    public void Content_tells_where_the_name_does_not(string path, InputKind expected) =>
        Assert.Equal(expected, InputSniffer.KindOf(TestData.File(path) with { Name = "download" }));

    [Theory]
    [InlineData("x", " \r\n{\"service\":\"wye\"}", InputKind.Readings)]
    [InlineData("x.txt", "\uFEFF// remark\n{}", InputKind.Readings)]
    [InlineData("x.json", "", InputKind.Readings)]
    [InlineData("x.txt", "# rate_hz: 5\ntime (s);V1 (V)\n", InputKind.Table)]
    [InlineData("x.txt", "a letter to a friend\n", InputKind.Unknown)]
    [InlineData("x.bin", "\0\u0001,\u0002", InputKind.Unknown)]
    [InlineData("x.INF", "", InputKind.ComtradeInformation)]
    public void Small_texts_are_known(string name, string text, InputKind expected) =>
        Assert.Equal(expected, InputSniffer.KindOf(TestData.Text(name, text)));
}
