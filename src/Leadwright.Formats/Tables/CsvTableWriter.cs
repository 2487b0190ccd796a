using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using Leadwright.Core.Signals;
using Leadwright.Formats.Text;

namespace Leadwright.Formats.Tables;

/// <summary>Writes a table as comma-separated UTF-8 text (RFC 4180), decimal points, lines ended by LF.</summary>
public sealed class CsvTableWriter : TableWriter
{
    private const int FlushAt = 1 << 16;
    private readonly Stream _stream;
    private readonly StringBuilder _text = new();

    /// <summary>Starts a table with its heading row.</summary>
    /// <param name="stream">Receives the text; stays open.</param>
    /// <param name="columns">The columns.</param>
    public CsvTableWriter(Stream stream, ImmutableArray<TableColumn> columns)
        : base(columns)
    {
        _stream = stream;
        _text.AppendJoin(',', columns.Select(column => CsvCell.Quoted(column.Name))).Append('\n');
    }

    /// <inheritdoc/>
    public override ValueTask CompleteAsync() => FlushAsync();

    /// <inheritdoc/>
    public override void Carry(StateCarrier carrier)
    {
        ArgumentNullException.ThrowIfNull(carrier);
        if (!carrier.IsReading) _stream.Write(Encoding.UTF8.GetBytes(_text.ToString()));
        _text.Clear();
        var length = _stream.Position;
        carrier.Carry(ref length);
        if (carrier.IsReading) CutBack(_stream, length);
    }

    /// <inheritdoc/>
    protected override ValueTask WriteRowAsync()
    {
        var culture = CultureInfo.InvariantCulture;
        for (var column = 0; column < Columns.Length; column++)
        {
            if (column > 0) _text.Append(',');
            switch (Columns[column].Kind)
            {
                case TableColumnKind.Number:
                    if (!double.IsNaN(Numbers[column])) _text.Append(culture, $"{Numbers[column]}");
                    break;
                case TableColumnKind.Single:
                    if (!double.IsNaN(Numbers[column])) _text.Append(culture, $"{(float)Numbers[column]}");
                    break;
                case TableColumnKind.Time:
                    if (Times[column] is { } time) _text.Append(culture, $"{time:yyyy-MM-ddTHH:mm:ss.ffffff}");
                    break;
                default:
                    if (Texts[column] is { } text) _text.Append(CsvCell.Quoted(text));
                    break;
            }
        }

        _text.Append('\n');
        return _text.Length < FlushAt ? ValueTask.CompletedTask : FlushAsync();
    }

    private async ValueTask FlushAsync()
    {
        await _stream.WriteAsync(Encoding.UTF8.GetBytes(_text.ToString())).ConfigureAwait(false);
        _text.Clear();
    }
}
