using Leadwright.Core.Logs;
using Leadwright.Surveys.Storage;

namespace Leadwright.Surveys.Tables;

/// <summary>Collects the blocks of one level, writes them in row groups, and hands each block that is whole to the level above.</summary>
internal sealed class PyramidLevelWriter : IAsyncDisposable
{
    // Blocks times columns that are held back: some 30 MB a level.
    private const int MostCells = 1_000_000;

    private readonly long _blockTicks;
    private readonly PyramidColumn[] _columns;
    private readonly bool _hasClock;
    private readonly PyramidLevelWriter? _above;
    private readonly PyramidFields _fields;
    private readonly TableFileWriter _file;
    private readonly BlockColumn[] _blocks;
    private readonly List<long> _starts = [];
    private readonly List<int> _rows = [];
    private readonly List<(int Block, int Length)> _runs = [];
    private readonly int _most;
    private int _handedUp;

    private PyramidLevelWriter(long blockTicks, PyramidColumn[] columns, bool hasClock, PyramidFields fields, TableFileWriter file, PyramidLevelWriter? above)
    {
        (_blockTicks, _columns, _hasClock, _fields, _file, _above) = (blockTicks, columns, hasClock, fields, file, above);
        _blocks = [.. columns.Select(_ => new BlockColumn(64))];
        _most = Math.Clamp(MostCells / Math.Max(columns.Length, 1), 256, 16_384);
    }

    public static async Task<PyramidLevelWriter> StartAsync(
        ISurveyStorage storage, string path, long blockTicks, PyramidColumn[] columns, bool hasClock, PyramidLevelWriter? above)
    {
        var fields = new PyramidFields(columns, hasClock);
        var file = await TableFileWriter.StartAsync(storage, path, fields.Schema).ConfigureAwait(false);
        return new PyramidLevelWriter(blockTicks, columns, hasClock, fields, file, above);
    }

    /// <summary>Finds the blocks of rows; their values are added column by column after it.</summary>
    public void StartRows(ReadOnlySpan<long> starts)
    {
        _runs.Clear();
        for (var row = 0; row < starts.Length;)
        {
            var block = BlockOf(starts[row]);
            var end = _starts[block] + _blockTicks;
            var from = row;
            while (row < starts.Length && starts[row] < end) row++;
            _rows[block] += row - from;
            _runs.Add((block, row - from));
        }

        foreach (var column in _blocks) column.Grow(RoomFor(_starts.Count));
    }

    public void Add(int column, ReadOnlySpan<double> values, ReadOnlySpan<Standing> standings)
    {
        var row = 0;
        foreach (var (block, length) in _runs)
        {
            _blocks[column].Add(block, values.Slice(row, length), standings.IsEmpty ? default : standings.Slice(row, length));
            row += length;
        }
    }

    /// <summary>Hands whole blocks up, and writes a row group when enough are there. The last block may still grow.</summary>
    public async Task SettleAsync(bool isLast)
    {
        var whole = isLast ? _starts.Count : Math.Max(_starts.Count - 1, 0);
        if (_above is not null && whole > _handedUp) HandUp(whole);
        _handedUp = Math.Max(_handedUp, whole);
        while (_handedUp >= _most || (isLast && _handedUp > 0)) await WriteGroupAsync(Math.Min(_handedUp, _most)).ConfigureAwait(false);
        if (_above is not null) await _above.SettleAsync(isLast).ConfigureAwait(false);
    }

    public Task CompleteAsync(string digest) => _file.CompleteAsync(new() { ["schema"] = PyramidFields.SchemaName, ["table_sha256"] = digest });

    public ValueTask DisposeAsync() => _file.DisposeAsync();

    private int BlockOf(long start)
    {
        var blockStart = start - (start % _blockTicks);
        if (_starts.Count == 0 || _starts[^1] != blockStart)
        {
            _starts.Add(blockStart);
            _rows.Add(0);
        }

        return _starts.Count - 1;
    }

    private static int RoomFor(int count)
    {
        var room = 64;
        while (room < count) room *= 2;
        return room;
    }

    private void HandUp(int whole)
    {
        for (var from = _handedUp; from < whole; from++)
        {
            var block = _above!.BlockOf(_starts[from]);
            _above._rows[block] += _rows[from];
            if (block >= _above._blocks[0].Counts.Length)
            {
                foreach (var column in _above._blocks) column.Grow(RoomFor(block + 1));
            }

            for (var column = 0; column < _columns.Length; column++)
            {
                var mine = _blocks[column];
                _above._blocks[column].Add(block, mine.Least[from], mine.Greatest[from], mine.Sums[from], mine.Counts[from], mine.Worst[from]);
            }
        }
    }

    private async Task WriteGroupAsync(int count)
    {
        using (var group = _file.StartGroup())
        {
            await _fields.WriteAsync(group, _starts, _rows, _blocks, count).ConfigureAwait(false);
            group.CompleteValidate();
        }

        if (_hasClock) _file.NoteTimes(new DateTime(_starts[0]), new DateTime(_starts[count - 1]));
        foreach (var column in _blocks) column.Drop(count, _starts.Count);
        _starts.RemoveRange(0, count);
        _rows.RemoveRange(0, count);
        _handedUp -= count;
    }
}
