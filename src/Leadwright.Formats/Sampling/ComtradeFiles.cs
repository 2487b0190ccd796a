using Leadwright.Formats.Comtrade;
using Leadwright.Formats.Text;

namespace Leadwright.Formats.Sampling;

/// <summary>Opens COMTRADE records for reading block by block, whatever their data are written as.</summary>
public static class ComtradeFiles
{
    /// <summary>Opens a record of two files.</summary>
    /// <param name="cfg">The configuration.</param>
    /// <param name="dataName">Display name of the data.</param>
    /// <param name="data">The data, at its start, with seeking; belongs to the source when one is returned.</param>
    /// <param name="options">How to read; null for the defaults.</param>
    /// <returns>Null when it must be read whole: several rates, or none stated.</returns>
    /// <exception cref="FormatReadException">A file can't be used.</exception>
    public static SampleSource? TryOpen(InputFile cfg, string dataName, Stream data, ComtradeReadOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(cfg);
        ArgumentNullException.ThrowIfNull(data);
        var warnings = new List<ReadWarning>();
        var configuration = ComtradeConfigurationReader.Read(SourceText.Lines(cfg.Bytes.Span, cfg.Name, stated: options?.Encoding, warnings: warnings), cfg.Name, warnings);
        return TryOpen(configuration, dataName, data, 1, 0, options, warnings);
    }

    /// <summary>Opens a record of one .cff file.</summary>
    /// <param name="name">Display name.</param>
    /// <param name="cff">The file, at its start, with seeking; belongs to the source when one is returned.</param>
    /// <param name="options">How to read; null for the defaults.</param>
    /// <returns>Null when it must be read whole: several rates, or none stated.</returns>
    /// <exception cref="FormatReadException">The file can't be used.</exception>
    public static SampleSource? TryOpenCombined(string name, Stream cff, ComtradeReadOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(cff);
        var warnings = new List<ReadWarning>();
        var sections = ComtradeCombinedFile.Split(cff, name, warnings);
        var text = new byte[sections.Cfg.End - sections.Cfg.Start];
        cff.Position = sections.Cfg.Start;
        cff.ReadExactly(text);
        var configuration = ComtradeConfigurationReader.Read(
            SourceText.Lines(text, name, sections.Cfg.FirstLine, sections.Cfg.Start, options?.Encoding, warnings), name, warnings);
        ComtradeReader.RefuseOtherDataType(configuration, sections, name);
        var data = new StreamSection(cff, sections.Dat.Start, sections.Dat.End - sections.Dat.Start);
        return TryOpen(configuration, name, data, sections.Dat.FirstLine, sections.Dat.Start, options, warnings);
    }

    private static SampleSource? TryOpen(
        ComtradeConfiguration configuration, string name, Stream data, int firstLine, long firstOffset,
        ComtradeReadOptions? options, List<ReadWarning> warnings) =>
        configuration.DataType == ComtradeDataType.Ascii
            ? ComtradeTextSource.TryOpen(configuration, name, data, data.Length, firstLine, firstOffset, options, warnings)
            : ComtradeSource.TryOpen(configuration, name, data, data.Length, options, warnings);
}
