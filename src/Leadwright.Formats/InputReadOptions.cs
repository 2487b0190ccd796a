using Leadwright.Core.Circuits;
using Leadwright.Formats.Comtrade;
using Leadwright.Formats.Csv;
using Leadwright.Formats.Logs;
using Leadwright.Formats.Pqdif;

namespace Leadwright.Formats;

/// <summary>How a set of files is read.</summary>
public sealed record InputReadOptions
{
    /// <summary>For COMTRADE records.</summary>
    public ComtradeReadOptions Comtrade { get; init; } = new();

    /// <summary>For tables of samples.</summary>
    public CsvSampleOptions Csv { get; init; } = new();

    /// <summary>For logs of intervals.</summary>
    public LogReadOptions Log { get; init; } = new();

    /// <summary>For PQDIF files.</summary>
    public PqdifReadOptions Pqdif { get; init; } = new();

    /// <summary>The service of readings that state none; null when they must.</summary>
    public ServiceKind? Service { get; init; }

    /// <summary>Longest file, bytes, that a recording may need read whole: one of several rates, or a workbook. Default what an array holds.</summary>
    public long MostHeldBytes { get; init; } = Array.MaxLength;
}
