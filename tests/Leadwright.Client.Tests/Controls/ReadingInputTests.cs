using Bunit;
using Leadwright.Client.Controls;
using Leadwright.Client.Model;

namespace Leadwright.Client.Tests.Controls;

public sealed class ReadingInputTests : ScreenContext
{
    private static readonly ReadingField s_angle = new("V2.angle", "angle", "°", true, 720);
    private static readonly ReadingRow s_row = new("V2", "Lead V2 to neutral", [s_angle]);
    private readonly List<string> _texts = [];

    [Fact]
    public void The_field_calls_a_number_pad_and_is_named_for_those_who_listen()
    {
        var input = Make("-120.3", "").Find("input");
        Assert.Equal("decimal", input.GetAttribute("inputmode"));
        Assert.Equal("text", input.GetAttribute("type"));
        Assert.Equal("Lead V2 to neutral, angle °", Make("", "").Find($"label[for={input.Id}]").TextContent);
    }

    [Fact]
    public void The_sign_key_changes_the_sign()
    {
        Make("120.3", "").Find("button.sign").Click();
        Assert.Equal(["-120.3"], _texts);
    }

    [Fact]
    public void Every_key_is_told()
    {
        Make("", "").Find("input").Input("-1");
        Assert.Equal(["-1"], _texts);
    }

    [Fact]
    public void An_error_is_tied_to_its_field()
    {
        var control = Make("x", "Expected a number.");
        var input = control.Find("input");
        Assert.Equal("true", input.GetAttribute("aria-invalid"));
        Assert.Equal("Expected a number.", control.Find($"#{input.GetAttribute("aria-describedby")}").TextContent);
    }

    private IRenderedComponent<ReadingInput> Make(string text, string error) => Render<ReadingInput>(parameters => parameters
        .Add(input => input.Row, s_row).Add(input => input.Field, s_angle).Add(input => input.Text, text).Add(input => input.Error, error)
        .Add(input => input.TextChanged, _texts.Add));
}
