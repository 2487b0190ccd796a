namespace Leadwright.Formats.Tests;

public sealed class FormatReadExceptionTests
{
    [Fact]
    public void Message_tells_where_what_was_expected_and_found_and_what_to_do()
    {
        var error = new FormatReadException(
            "run7.csv", "a number", "\"1,25\"", "The decimal mark seems to be ','. Read it with --decimal-mark comma.",
            line: 128, column: 3, field: "time_s", byteOffset: 4096);

        Assert.Equal(
            "Cannot read 'run7.csv': line 128, column 3 'time_s' (byte 4096): expected a number, found \"1,25\".\n"
            + "The decimal mark seems to be ','. Read it with --decimal-mark comma.",
            error.Message);
        Assert.Equal(("run7.csv", 128, 3, "time_s", 4096L), (error.Source, error.Line, error.Column, error.Field, error.ByteOffset));
    }

    [Fact]
    public void Message_leaves_out_what_is_not_known() =>
        Assert.Equal("Cannot read 'x': expected a, found b.", new FormatReadException("x", "a", "b").Message);
}
