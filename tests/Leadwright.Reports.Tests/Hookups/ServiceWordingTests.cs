using System.Xml.Linq;
using System.Text.Json;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Reports.Hookups;

namespace Leadwright.Reports.Tests.Hookups;

public class ServiceWordingTests
{
    [Theory]
    [InlineData(Conductor.B, false)]
    [InlineData(Conductor.C, true)]
    public void The_high_leg_is_named_in_text_json_and_drawing(Conductor highLeg, bool isUnusual)
    {
        var verdict = HighLeg(highLeg);
        var document = CheckDocument.Of("panel.json", verdict);

        Assert.Contains($"The high leg is conductor {highLeg}.", document.PhaseOrder, StringComparison.Ordinal);
        Assert.Equal(isUnusual, document.PhaseOrder.Contains("By the usual rule", StringComparison.Ordinal));
        var json = JsonDocument.Parse(CheckJson.Line(document)).RootElement;
        Assert.Equal(("high-leg", $"{highLeg}"), (json.GetProperty("service").GetString(), json.GetProperty("high_leg").GetString()));
        Assert.False(json.TryGetProperty("services", out _));
        var svg = HookupDrawing.Svg(verdict);
        Assert.Contains($"data-label=\"{highLeg}\">high leg</text>", svg, StringComparison.Ordinal);
        Assert.Contains(HookupDrawing.TextTwin(verdict), sentence => sentence.StartsWith("The high leg is", StringComparison.Ordinal));
        Assert.Contains("order 1, 2, 3", VectorDiagram.PhaseOrder(verdict), StringComparison.Ordinal);
    }

    [Fact]
    public void A_service_that_fits_instead_is_named_with_what_to_do()
    {
        var verdict = Mismatch();
        var document = CheckDocument.Of("panel.json", verdict);

        Assert.Equal("The readings come from a network service at 120/208 V, not from what was stated.", document.Headline);
        Assert.StartsWith("Read the nameplate. If it says so, state the service network at 120/208 V", document.Steps.Single(), StringComparison.Ordinal);
        Assert.Contains("a split service", document.Evidence[0].Says, StringComparison.Ordinal);
        var json = JsonDocument.Parse(CheckJson.Line(document)).RootElement;
        Assert.Equal(("split", "network"), (json.GetProperty("service").GetString(), json.GetProperty("fits_service").GetString()));
        Assert.Equal("service-mismatch", json.GetProperty("faults")[0].GetProperty("kind").GetString());
        var first = json.GetProperty("services")[0];
        Assert.Equal(("network", "120/208"), (first.GetProperty("service").GetString(), first.GetProperty("nominal").GetString()));
        Assert.Contains("stated was single-phase three-wire (split)", CheckText.Write(document).ReplaceLineEndings(" ").Replace("  ", " ", StringComparison.Ordinal), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(ServiceKind.Network, ServiceKind.Split, "measure between the two lines")]
    [InlineData(ServiceKind.Wye, ServiceKind.HighLeg, "marking of a high leg")]
    [InlineData(ServiceKind.Wye, ServiceKind.Delta, "earthed corner of a delta, not a dead line")]
    [InlineData(ServiceKind.Wye, ServiceKind.Wye, "nameplate for the nominal voltage")]
    public void A_service_in_doubt_is_asked_about(ServiceKind first, ServiceKind second, string asked)
    {
        var verdict = Mismatch() with
        {
            Verdict = Verdict.Undecided,
            Notes = [new Note(NoteKind.ServiceInDoubt, [], 0.6)],
            Services = [new ServiceShare(first, new NominalVoltage(120, 208), 0.6), new ServiceShare(second, new NominalVoltage(277, 480), 0.4)],
        };

        Assert.Contains(CheckDocument.Of("panel.json", verdict).Notes, note => note.Contains(asked, StringComparison.Ordinal));
    }

    [Fact]
    public void Two_lines_of_a_wye_say_how_far_they_stand_apart() =>
        Assert.Equal("The two voltages stand 120° apart.", VectorDiagram.PhaseOrder(Mismatch()));

    private static HookupVerdict HighLeg(Conductor highLeg) => SampleVerdicts.Correct() with
    {
        Service = ServiceKind.HighLeg,
        Best = SampleVerdicts.Correct().Best with { HighLeg = highLeg },
        Phasors = SampleVerdicts.Phasors(
            (Channel.V1, 120, 0), (Channel.V2, 208, -90), (Channel.V3, 120, 180), (Channel.I1, 20, -20), (Channel.I2, 10, -120), (Channel.I3, 15, 150)),
    };

    [Fact]
    public void A_service_stated_wrongly_is_drawn_without_a_movement_at_the_board()
    {
        var svg = XElement.Parse(HookupDrawing.Svg(Mismatch()));
        Assert.DoesNotContain(svg.Descendants(), mark => mark.Attribute("data-step") is not null);
    }

    private static HookupVerdict Mismatch()
    {
        var service = Service.Of(ServiceKind.Network);
        var right = Hookup.Expected(service.Leads, service.Clamps);
        return SampleVerdicts.Correct() with
        {
            Service = ServiceKind.Network,
            StatedService = ServiceKind.Split,
            Verdict = Verdict.Faulty,
            Best = new Answer(
                right, Rotation.Abc, 0.998,
                [new Fault(FaultKind.ServiceMismatch, [], [], [new SetService(ServiceKind.Network, new NominalVoltage(120, 208))])], []),
            Alternatives = [],
            Evidence = [new Evidence(EvidenceKind.Service, 12, right)],
            Services =
            [
                new ServiceShare(ServiceKind.Network, new NominalVoltage(120, 208), 0.999),
                new ServiceShare(ServiceKind.Split, new NominalVoltage(120, 240), 0.001),
            ],
            Phasors = SampleVerdicts.Phasors((Channel.V1, 120, 0), (Channel.V2, 120, -120), (Channel.I1, 20, -20), (Channel.I2, 10, -140)),
        };
    }
}
