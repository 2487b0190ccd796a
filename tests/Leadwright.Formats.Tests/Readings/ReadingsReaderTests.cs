using System.Text;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Formats.Readings;

namespace Leadwright.Formats.Tests.Readings;

public sealed class ReadingsReaderTests
{
    // The example of the contract, with every field of the format.
    private const string Full = """
        {"schema":"leadwright.readings/1","service":"wye","nominal":"230/400","frequency":50,"angles":"lead-positive",
         "current_angles":"own-voltage", "watts":"load-negative", "voltage_sum_fraction": 0.01,
         "channels":{"V1":{"rms":231.2,"angle":0},"V2":{"rms":230.1,"angle":-120.3},"V3":{"rms":229.8,"angle":119.8},
                     "I1":{"rms":41.2,"angle":161.0},"I2":{"rms":38.0,"angle":-146.1},"I3":{"rms":44.9,"angle":95.0,"spread":0.1}},
         "phases":{"1":{"watts":-9010,"vars":-3100,"va":9530,"pf":-0.945}}, "linetoline":{"V12":400.2}, "replayed": true}
        """;

    [Fact]
    public void Every_field_is_read()
    {
        var file = Read(Full);

        var readings = file.Readings;
        Assert.Empty(file.Warnings);
        Assert.Equal("230/400", file.NominalText);
        Assert.Equal((ServiceKind.Wye, new NominalVoltage(230, 400), 50.0), (readings.Service, readings.Nominal, readings.FrequencyHertz));
        Assert.Equal(
            (AngleSign.LeadPositive, CurrentAngleReference.OwnVoltage, PowerSign.LoadNegative, true, 0.01),
            (readings.AngleSign, readings.CurrentAngleReference, readings.PowerSign, readings.IsReplayed, readings.VoltageSumFraction));
        Assert.Equal(6, readings.Channels.Count);
        Assert.Equal(new ChannelReading(230.1, -120.3), readings.Channels[Channel.V2]);
        Assert.Equal(new ChannelReading(44.9, 95, 0.1), readings.Channels[Channel.I3]);
        Assert.Equal(new PhasePower(-9010, -3100, 9530, -0.945), readings.Phases[1]);
        Assert.Equal(400.2, readings.LineToLineVolts[Channel.V12]);
    }

    [Fact]
    public void All_but_the_service_may_be_missing()
    {
        var readings = Read("""{"service":"delta"}""").Readings;

        Assert.Equal(ServiceKind.Delta, readings.Service);
        Assert.Equal((null, null, AngleSign.NotStated), (readings.Nominal, readings.FrequencyHertz, readings.AngleSign));
        Assert.Empty(readings.Channels);
    }

    [Theory]
    [InlineData("{\"service\":\"auto\",\"nominal\":\"120/240\"}", false, 120.0)]
    [InlineData("{\"nominal\":\"120/208\"}", true, 120.0)]
    [InlineData("{\"nominal\":\"480\"}", true, null)]
    public void A_service_left_open_is_taken_and_one_nominal_value_waits_for_it(string json, bool mayInfer, double? lineToNeutral)
    {
        var readings = ReadingsReader.Read(new InputFile("panel.json", Encoding.UTF8.GetBytes(json)), null, mayInfer).Readings;

        Assert.True(readings.IsServiceOpen);
        Assert.Equal(lineToNeutral, readings.Nominal?.LineToNeutralVolts);
        var again = ReadingsReader.Read(new InputFile("again.json", ReadingsWriter.Write(readings))).Readings;
        Assert.Equal((true, readings.Nominal), (again.IsServiceOpen, again.Nominal));
    }

    [Theory]
    [InlineData("VNG", 12)]
    [InlineData("VGN", -168)]
    public void A_ground_lead_is_read_either_way_round_and_written(string name, double angle)
    {
        var readings = Read("{\"service\":\"wye\",\"channels\":{\"" + name + "\":{\"rms\":1.4,\"angle\":12}}}").Readings;

        Assert.Equal(new ChannelReading(1.4, angle), readings.NeutralToGround);
        Assert.Empty(readings.Channels);
        var again = ReadingsReader.Read(new InputFile("again.json", ReadingsWriter.Write(readings))).Readings;
        Assert.Equal(readings.NeutralToGround, again.NeutralToGround);
    }

    [Fact]
    public void Every_field_case_is_read_and_written_back_the_same()
    {
        var count = 0;
        foreach (var panel in TestData.Json("field-cases/cases.json").GetProperty("cases").EnumerateArray())
        {
            foreach (var reading in panel.GetProperty("readings").EnumerateArray())
            {
                var file = Read(reading.GetProperty("data").GetRawText());
                Assert.Empty(file.Warnings);
                Assert.NotEqual(0, file.Readings.Channels.Count + file.Readings.Phases.Count);
                var again = ReadingsReader.Read(new InputFile("again.json", ReadingsWriter.Write(file.Readings)));
                ReadingsWriterTests.AssertSame(file.Readings, again.Readings);
                count++;
            }
        }

        Assert.Equal(44, count);
    }

    [Theory]
    [InlineData("480", 277.128, 480)]
    [InlineData("\"480\"", 277.128, 480)]
    [InlineData("\"277/480\"", 277, 480)]
    [InlineData("\"480 V\"", 277.128, 480)]
    public void Nominal_may_be_text_or_number(string nominal, double lineToNeutral, double lineToLine)
    {
        var volts = Read($$"""{"service":"delta","nominal":{{nominal}}}""").Readings.Nominal;

        Assert.Equal((lineToNeutral, lineToLine), (Math.Round(volts!.LineToNeutralVolts, 3), volts.LineToLineVolts));
    }

    [Theory]
    [InlineData("V12", 30.0)]
    [InlineData("V21", -150.0)]
    [InlineData("u21", -150.0)]
    public void Leads_the_other_way_round_turn_the_angle_by_half_a_cycle(string name, double expected) =>
        Assert.Equal(new ChannelReading(400, expected), Read("{\"service\":\"delta\",\"channels\":{\"" + name + "\":{\"rms\":400,\"angle\":30}}}").Readings.Channels[Channel.V12]);

    [Theory]
    [InlineData("""{"service":"single","channels":{"V1":230.5}}""")]
    [InlineData("""{"service":"SINGLE","channels":{"U1":{"rms":230.5}}}""")]
    [InlineData("""{"service":"single","channels":{"v1":{"rms":230.5,"angle":null},"I1":null}}""")]
    [InlineData("// typed on site\n{\"service\":\"single\",/* one */\"channels\":{\"V1\":{\"rms\":230.5,},},}\n\u001A")]
    [InlineData("\uFEFF{\"service\":\"single\",\"channels\":{\"V1\":{\"rms\":230.5}},\"phases\":null,\"nominal\":null,\"angles\":null}")]
    public void Unambiguous_liberties_are_taken(string text)
    {
        var file = Read(text);

        Assert.Equal([(Channel.V1, new ChannelReading(230.5, null))], file.Readings.Channels.Select(pair => (pair.Key, pair.Value)));
        Assert.Empty(file.Warnings);
    }

    [Theory]
    [InlineData("{\"service\":\"wye\",\n\"load\":\"mixed\"}", "The field '$.load' is not known and was not used.", 2)]
    [InlineData("{\"service\":\"wye\",\n\"channels\":{\"V9\":{\"rms\":1}}}", "The field '$.channels.V9' is not known", 2)]
    [InlineData("{\"service\":\"wye\",\"channels\":{\"V1\":{\n\n\"peak\":[1,{}]}}}", "The field '$.channels.V1.peak' is not known", 3)]
    [InlineData("{\"service\":\"wye\",\"phases\":{\"4\":{}}}", "The field '$.phases.4' is not known", 1)]
    [InlineData("{\"service\":\"wye\",\"linetoline\":{\"V1\":3}}", "Voltages between lines are V12, V23 and V31.", 1)]
    [InlineData("{\"service\":\"wye\",\"a b\":3}", "The field '$[\"a b\"]' is not known", 1)]
    public void Unknown_fields_are_told(string text, string says, int line)
    {
        var warning = Assert.Single(Read(text).Warnings);

        Assert.Contains(says, warning.Says, StringComparison.Ordinal);
        Assert.Equal(line, warning.Line);
    }

    public static TheoryData<string, string, int> BadReadings() => new()
    {
        { "{}", "'$.service' (byte 0): expected the service: wye, delta, ", 1 },
        { "{\"service\":null}", "expected the service: ", 1 },
        { "{\n\"service\":\"star\"}", "line 2, '$.service' (byte 12): expected a service: wye, delta, ", 2 },
        { "{\n\"service\":3}", "'$.service' (byte 12): expected the name of a service, found 3", 2 },
        { "{\"service\":\"wye\",\n\"nominal\":\"mains\"}", "line 2, '$.nominal' (byte 28): expected the nominal voltage of a 'wye' service, such as 230/400, found \"mains\"", 2 },
        { "{\"nominal\":\"120/240\",\"service\":\"wye\"}", "'$.nominal' (byte 11): expected the nominal voltage of a 'wye' service", 1 },
        { "{\"service\":\"wye\",\"nominal\":[1]}", "expected the nominal voltage, such as \"230/400\" or 480, found a list [ … ]", 1 },
        { "{\"service\":\"wye\",\"told\":[\"arrow:I1=up\"]}", "'$.told[0]' (byte 25): expected an answer such as \"switched:A=I2,up\", found \"arrow:I1=up\"", 1 },
        { "{\"service\":\"wye\",\"told\":[\"arrow:I1=load\",\"arrow:I1=source\"]}", "expected each action answered once, found arrow:I1 a second time", 1 },
        { "{\"service\":\"wye\",\"frequency\":0}", "'$.frequency' (byte 29): expected a number of hertz from 40 to 70, such as 50 or 60, found 0", 1 },
        { "{\"service\":\"wye\",\"frequency\":400}", "expected a number of hertz from 40 to 70, such as 50 or 60, found 400", 1 },
        { "{\"service\":\"wye\",\"frequency\":1e300}", "expected a number of hertz from 40 to 70, such as 50 or 60, found 1e300", 1 },
        { "{\"service\":\"wye\",\"frequency\":\"50\"}", "expected a number of hertz from 40 to 70, such as 50 or 60, found \"50\"", 1 },
        { "{\"service\":\"wye\",\"angles\":\"plus\"}", "expected \"lead-positive\" or \"lag-positive\", found \"plus\"", 1 },
        { "{\"service\":\"wye\",\"current_angles\":1}", "expected \"common\" or \"own-voltage\", found 1", 1 },
        { "{\"service\":\"wye\",\"watts\":true}", "expected \"load-positive\" or \"load-negative\", found true", 1 },
        { "{\"service\":\"wye\",\"replayed\":\"yes\"}", "expected true or false, found \"yes\"", 1 },
        { "{\"service\":\"wye\",\"channels\":[]}", "'$.channels' (byte 28): expected an object { … } of channels, found a list [ … ]", 1 },
        { "{\"service\":\"wye\",\"channels\":{\n\"V1\":{\"rms\":\"231,2\"}}}", "line 2, '$.channels.V1.rms' (byte 42): expected a number of volts or amperes, zero or more, found \"231,2\"", 2 },
        { "{\"service\":\"wye\",\"channels\":{\"V1\":{\"rms\":-1}}}", "found -1", 1 },
        { "{\"service\":\"wye\",\"channels\":{\"V1\":{\"rms\":1e999}}}", "found 1e999", 1 },
        { "{\"service\":\"wye\",\"channels\":{\"V1\":\"231\"}}", "expected an object such as {\"rms\": 230.1, \"angle\": -120.3}, found \"231\"", 1 },
        { "{\"service\":\"wye\",\"channels\":{\"V12\":{\"rms\":1},\"V21\":{\"rms\":1}}}", "'$.channels.V21' (byte 51): expected each channel once, found V12 a second time", 1 },
        { "{\"service\":\"wye\",\"service\":\"delta\"}", "'$.service' (byte 17): expected each field once, found it a second time", 1 },
        { "{\"service\":\"wye\",\"phases\":{\"1\":{\"pf\":92}}}", "'$.phases.1.pf' (byte 37): expected a power factor from -1 to 1 (0.92, not 92), found 92", 1 },
        { "{\"service\":\"wye\",\"phases\":{\"1\":{\"va\":-1}}}", "expected a number of volt-amperes, zero or more, found -1", 1 },
        { "{\"service\":\"wye\",\"linetoline\":{\"V12\":{}}}", "expected a number of volts, zero or more, found an object { … }", 1 },
        { "{\"schema\":\"leadwright.readings/2\",\"service\":\"wye\"}", "expected \"leadwright.readings/1\", found \"leadwright.readings/2\"", 1 },
        { "{\"schema\":\"other/1\",\"service\":\"wye\"}", "The file is not a table of readings.", 1 },
        { "[1]", "'$' (byte 0): expected an object { … } that holds the readings, found a list [ … ]", 1 },
        { "{\"service\":\"wye\"\n\"nominal\":480}", "line 2 (byte 17): expected JSON, found \"\"nominal\":480}\"", 2 },
        { "{\"service\":\"wye\",", "expected JSON, found the end of the file too early.\nA closing brace '}' may be missing", 1 },
        { "", "expected JSON, found the end of the file too early", 1 },
        { "{\"service\":\"wye\"} x", "expected JSON, found \"x\"", 1 },
    };

    [Theory]
    [MemberData(nameof(BadReadings))]
    public void A_bad_file_is_refused_with_path_line_and_reason(string text, string message, int line)
    {
        var error = Fail(text);

        Assert.Contains(message, error.Message, StringComparison.Ordinal);
        Assert.Equal(line, error.Line);
        Assert.False(string.IsNullOrEmpty(error.Hint));
    }

    [Fact]
    public void A_service_given_beside_the_file_fills_in_one_that_is_missing()
    {
        var file = ReadingsReader.Read(TestData.Text("x.json", """{"nominal":"480"}"""), ServiceKind.Delta);

        Assert.Equal((ServiceKind.Delta, 480.0), (file.Readings.Service, file.Readings.Nominal?.LineToLineVolts));
    }

    [Fact]
    public void Another_service_gives_the_nominal_value_its_own_meaning()
    {
        var file = Read("""{"service":"single","nominal":"230"}""");

        Assert.Equal(230 / Math.Sqrt(3), file.WithService(ServiceKind.Wye).Readings.Nominal!.LineToNeutralVolts, 9);
        Assert.Null(Read("""{"service":"wye","nominal":"230/400"}""").WithService(ServiceKind.Split).Readings.Nominal);
    }

    [Fact]
    public void A_file_cut_at_any_byte_is_refused_with_reason()
    {
        var bytes = Encoding.UTF8.GetBytes(Full);
        for (var length = 0; length < bytes.Length; length++)
        {
            var cut = new InputFile("x.json", bytes.AsMemory(0, length));
            var error = Assert.Throws<FormatReadException>(() => ReadingsReader.Read(cut));
            Assert.Contains("expected JSON", error.Message, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void A_file_with_any_byte_changed_is_read_or_refused_with_reason()
    {
        var bytes = Encoding.UTF8.GetBytes(Full);
        foreach (var other in (byte[])[0, (byte)'"', (byte)'}', (byte)'\\', 0xFF])
        {
            for (var index = 0; index < bytes.Length; index++)
            {
                var changed = bytes.ToArray();
                changed[index] = other;
                if (Record.Exception(() => ReadingsReader.Read(new InputFile("x.json", changed))) is { } exception)
                    Assert.IsType<FormatReadException>(exception);
            }
        }
    }

    private static ReadingsFile Read(string text) => ReadingsReader.Read(TestData.Text("x.json", text));

    private static FormatReadException Fail(string text) => Assert.Throws<FormatReadException>(() => Read(text));
}
