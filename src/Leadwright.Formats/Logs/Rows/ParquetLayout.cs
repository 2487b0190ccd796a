namespace Leadwright.Formats.Logs.Rows;

/// <summary>The structs of parquet.thrift that a footer and the headers of pages are made of.</summary>
internal enum ParquetPart
{
    /// <summary>One without fields.</summary>
    Nothing,
    Root,
    Element,
    RowGroup,
    Chunk,
    Column,
    Statistics,
    Sizes,
    Pair,
    Sorting,
    PageCount,
    Order,
    Logical,
    Decimal,
    Clock,
    Unit,
    Integer,
    Page,
    DataPage,
    DictionaryPage,
    DataPage2,
}

/// <summary>What a field holds.</summary>
/// <param name="Type">Its type in the Thrift compact protocol; 1 for either value of a flag, 0 where the format names no such field, below 0 for what is not read here.</param>
/// <param name="Part">What it is a struct of, or a list of structs.</param>
/// <param name="Element">Type of the elements of a list.</param>
internal readonly record struct ParquetField(int Type, ParquetPart Part = ParquetPart.Nothing, int Element = 0)
{
    /// <summary>Whether the library takes the same number of bytes for a value of a type here as the file holds.</summary>
    /// <param name="type">Type that the file states.</param>
    /// <remarks>The library reads a known field as what the format says, whatever the file says, and passes over an unknown one rightly only where it is a plain value or a list of such.</remarks>
    public bool Takes(int type) => Type switch
    {
        0 => type is >= 1 and <= 9,
        1 => type is 1 or 2,
        _ => type == Type,
    };

    /// <summary>The same for the elements of a list.</summary>
    /// <param name="type">Type that the file states.</param>
    public bool TakesElement(int type) => Type == 0 ? type is >= 3 and <= 8 : type == Element;
}

/// <summary>Which fields the structs of a Parquet file have.</summary>
/// <remarks>Source: Apache Parquet format, parquet.thrift. Encrypted files and shapes on a map are left out: no recorder writes them, and the library would read them amiss.</remarks>
internal static class ParquetLayout
{
    // Types of the Thrift compact protocol.
    private const int Unread = -1, Flag = 1, Whole8 = 3, Whole16 = 4, Whole32 = 5, Whole64 = 6, Bytes = 8, List = 9, Struct = 12;

    // By part and number; fields count from 1.
    private static readonly ParquetField[][] s_fields = Made();

    /// <summary>What a field of a struct holds; a field of no type where the format names none of that number.</summary>
    /// <param name="part">The struct.</param>
    /// <param name="number">Number of the field.</param>
    public static ParquetField FieldOf(ParquetPart part, int number)
    {
        var fields = s_fields[(int)part];
        return number > 0 && number <= fields.Length ? fields[number - 1] : default;
    }

    private static ParquetField[][] Made()
    {
        ParquetField flag = new(Flag), whole32 = new(Whole32), whole64 = new(Whole64), bytes = new(Bytes), whole64s = new(List, Element: Whole64), empty = new(Struct), unread = new(Unread);
        var fields = new ParquetField[Enum.GetValues<ParquetPart>().Length][];
        Array.Fill(fields, []);
        fields[(int)ParquetPart.Root] = [whole32, Many(ParquetPart.Element), whole64, Many(ParquetPart.RowGroup), Many(ParquetPart.Pair), bytes, Many(ParquetPart.Order), unread, bytes];
        fields[(int)ParquetPart.Element] = [whole32, whole32, whole32, bytes, whole32, whole32, whole32, whole32, whole32, One(ParquetPart.Logical)];
        fields[(int)ParquetPart.RowGroup] = [Many(ParquetPart.Chunk), whole64, whole64, Many(ParquetPart.Sorting), whole64, whole64, new(Whole16)];
        fields[(int)ParquetPart.Chunk] = [bytes, whole64, One(ParquetPart.Column), whole64, whole32, whole64, whole32, unread, bytes];
        fields[(int)ParquetPart.Column] =
        [
            whole32, new(List, Element: Whole32), new(List, Element: Bytes), whole32, whole64, whole64, whole64, Many(ParquetPart.Pair), whole64, whole64, whole64, One(ParquetPart.Statistics),
            Many(ParquetPart.PageCount), whole64, whole32, One(ParquetPart.Sizes), unread,
        ];
        fields[(int)ParquetPart.Statistics] = [bytes, bytes, whole64, whole64, bytes, bytes, flag, flag];
        fields[(int)ParquetPart.Sizes] = [whole64, whole64s, whole64s];
        fields[(int)ParquetPart.Pair] = [bytes, bytes];
        fields[(int)ParquetPart.Sorting] = [whole32, flag, flag];
        fields[(int)ParquetPart.PageCount] = [whole32, whole32, whole32];
        fields[(int)ParquetPart.Order] = [empty];
        fields[(int)ParquetPart.Logical] =
        [
            empty, empty, empty, empty, One(ParquetPart.Decimal), empty, One(ParquetPart.Clock), One(ParquetPart.Clock), default, One(ParquetPart.Integer), empty, empty, empty, empty, empty,
            unread, unread, unread,
        ];
        fields[(int)ParquetPart.Decimal] = [whole32, whole32];
        fields[(int)ParquetPart.Clock] = [flag, One(ParquetPart.Unit)];
        fields[(int)ParquetPart.Unit] = [empty, empty, empty];
        fields[(int)ParquetPart.Integer] = [new(Whole8), flag];
        fields[(int)ParquetPart.Page] = [whole32, whole32, whole32, whole32, One(ParquetPart.DataPage), empty, One(ParquetPart.DictionaryPage), One(ParquetPart.DataPage2)];
        fields[(int)ParquetPart.DataPage] = [whole32, whole32, whole32, whole32, One(ParquetPart.Statistics)];
        fields[(int)ParquetPart.DictionaryPage] = [whole32, whole32, flag];
        fields[(int)ParquetPart.DataPage2] = [whole32, whole32, whole32, whole32, whole32, whole32, flag, One(ParquetPart.Statistics)];
        return fields;
    }

    private static ParquetField One(ParquetPart part) => new(Struct, part);

    private static ParquetField Many(ParquetPart part) => new(List, part, Struct);
}
