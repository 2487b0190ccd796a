using System.Text;
using Leadwright.App.Verbs;
using Leadwright.App.Verbs.Guarding;
using Leadwright.Core.Hookups;

namespace Leadwright.App.Tests.Verbs.Guarding;

/// <summary>A file that grows, from its first line on.</summary>
public sealed class GrowingFileTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("leadwright-growing-").FullName;

    private string Week => Path.Combine(_folder, "week.csv");

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void A_recorder_that_has_just_begun_is_waited_for()
    {
        var file = Open();
        File.WriteAllText(Week, "time;V1 (V)\n");
        Assert.Null(file.Grown());
        File.AppendAllText(Week, "2026-03-02 10:00;230.1\n");
        Assert.Null(file.Grown());
        File.AppendAllText(Week, "2026-03-02 10:15;230.2\n2026-03-02 10:30;230.3\n");
        var rows = file.Grown()!;
        Assert.True(rows.AreWhole);
        Assert.Equal([230.1, 230.2, 230.3], rows.Log.Values(0).ToArray());
        Assert.Null(file.Grown());
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void A_last_line_without_its_end_is_taken_when_it_is_whole_and_no_number_is_cut(bool isWide)
    {
        Encoding encoding = isWide ? Encoding.Unicode : new UTF8Encoding(false);
        var file = Open();
        File.WriteAllText(Week, "time;V1 (V)\n2026-03-02 10:00;230.1\n2026-03-02 10:15;230.2\n2026-03-02 10:30;230.3\n2026-03-02 10:45;2", encoding);
        Assert.Equal([230.1, 230.2, 230.3], file.Grown()!.Log.Values(0).ToArray());
        using (var stream = new FileStream(Week, FileMode.Append, FileAccess.Write)) stream.Write(encoding.GetBytes("30.4\n2026-03-02 11:00;23"));
        var rows = file.Grown()!;
        Assert.False(rows.AreWhole);
        Assert.Equal([230.4], rows.Log.Values(0).ToArray());
        Assert.Equal(new DateTime(2026, 3, 2, 10, 45, 0), rows.Log.From);
    }

    [Fact]
    public void What_is_no_table_is_refused_when_it_has_lines_enough()
    {
        File.WriteAllText(Week, "one\ntwo\nthree\nfour\nfive\n");
        Assert.Throws<InputRefusedException>(() => Open().Grown());
    }

    private GrowingFile Open() => new(Week, new GuardRequest(new RecordingRequest(), new CheckOptions()));
}
