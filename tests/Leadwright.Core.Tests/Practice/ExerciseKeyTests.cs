using Leadwright.Core.Circuits;
using Leadwright.Core.Panels;
using Leadwright.Core.Practice;

namespace Leadwright.Core.Tests.Practice;

public sealed class ExerciseKeyTests
{
    [Theory]
    [InlineData("panel/wye/motors/2/1234")]
    [InlineData("what-next/any/any/1/0")]
    [InlineData("name-the-fault/delta-two-clamp/any/3/18446744073709551615")]
    public void A_key_reads_back_what_it_writes(string text)
    {
        Assert.True(ExerciseKey.TryParse(text, out var key));
        Assert.Equal(text, key!.ToString());
    }

    [Theory]
    [InlineData("")]
    [InlineData("panel/wye/motors/2")]
    [InlineData("panel/wye/motors/4/1")]
    [InlineData("panel/star/motors/2/1")]
    [InlineData("panel/wye/13/2/1")]
    [InlineData("panel/wye/motors/2/-1")]
    public void What_is_no_key_is_refused(string text) => Assert.False(ExerciseKey.TryParse(text, out _));

    [Fact]
    public void A_seal_opens_to_its_key_and_hides_it()
    {
        var key = new ExerciseKey(PracticeForm.Panel, ServiceKind.Delta, LoadFamily.Light, 3, 987654321);
        var seal = ExerciseSeal.Close(key);
        Assert.True(ExerciseSeal.TryOpen(seal.ToLowerInvariant(), out var opened));
        Assert.Equal(key, opened);
        Assert.DoesNotContain(Convert.ToHexString("987654321"u8), seal, StringComparison.Ordinal);
        Assert.DoesNotContain("987654321", seal, StringComparison.Ordinal);
    }

    [Fact]
    public void Neighbouring_seeds_have_seals_that_look_nothing_alike()
    {
        var seals = Enumerable.Range(0, 50).Select(seed => ExerciseSeal.Close(new ExerciseKey(PracticeForm.Panel, null, null, 1, (ulong)seed))).ToList();
        Assert.Equal(50, seals.Select(seal => seal[8..20]).Distinct().Count());
    }

    [Fact]
    public void A_seal_with_a_changed_letter_does_not_open()
    {
        var seal = ExerciseSeal.Close(new ExerciseKey(PracticeForm.OpenNeutral, null, null, 2, 77));
        for (var index = 4; index < seal.Length; index++)
        {
            var changed = $"{seal[..index]}{(seal[index] == '0' ? '1' : '0')}{seal[(index + 1)..]}";
            Assert.False(ExerciseSeal.TryOpen(changed, out _), changed);
        }
    }
}
