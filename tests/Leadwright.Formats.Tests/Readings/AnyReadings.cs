using System.Collections.Immutable;
using FsCheck;
using FsCheck.Fluent;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;

namespace Leadwright.Formats.Tests.Readings;

/// <summary>Readings with anything missing and any finite number.</summary>
public static class AnyReadings
{
    public static Arbitrary<PanelReadings> Readings() => Arb.From(
        from service in Gen.Elements(Enum.GetValues<ServiceKind>())
        from nominal in Gen.Elements("230/400", "120/208", "277/480", "120/240", "480", "230", "690.5", "57.7/100", "none")
        from frequency in Maybe(Gen.Elements(40.0, 49.98, 50.0, 60.0, 70.0))
        from angles in Gen.Elements(Enum.GetValues<AngleSign>())
        from currentAngles in Gen.Elements(Enum.GetValues<CurrentAngleReference>())
        from watts in Gen.Elements(Enum.GetValues<PowerSign>())
        from replayed in Gen.Elements(true, false)
        from sum in Maybe(Positive())
        from channels in Map(Enum.GetValues<Channel>(), Reading())
        from phases in Map([1, 2, 3], Power())
        from lines in Map([Channel.V12, Channel.V23, Channel.V31], Positive())
        select new PanelReadings
        {
            Service = service,
            Nominal = NominalVoltage.TryParse(nominal, service, out var volts) ? volts : null,
            FrequencyHertz = frequency,
            AngleSign = angles,
            CurrentAngleReference = currentAngles,
            PowerSign = watts,
            IsReplayed = replayed,
            VoltageSumFraction = sum,
            Channels = channels,
            Phases = phases,
            LineToLineVolts = lines,
        });

    private static Gen<ChannelReading> Reading() =>
        from rms in Maybe(Positive())
        from angle in Maybe(Finite())
        from spread in Maybe(Positive())
        select new ChannelReading(rms, angle, spread);

    private static Gen<PhasePower> Power() =>
        from watts in Maybe(Finite())
        from vars in Maybe(Finite())
        from voltAmperes in Maybe(Positive())
        from factor in Maybe(Gen.Choose(-1000, 1000).Select(value => value / 1000.0))
        select new PhasePower(watts, vars, voltAmperes, factor);

    private static Gen<ImmutableSortedDictionary<TKey, TValue>> Map<TKey, TValue>(TKey[] keys, Gen<TValue> value)
        where TKey : notnull =>
        from kept in Gen.SubListOf(keys)
        from values in Gen.ListOf(value, kept.Count)
        select kept.Zip(values).ToImmutableSortedDictionary(pair => pair.First, pair => pair.Second);

    private static Gen<double> Finite() => ArbMap.Default.GeneratorFor<NormalFloat>().Select(value => value.Get);

    private static Gen<double> Positive() => Finite().Select(value => Math.Max(Math.Abs(value), double.Epsilon));

    private static Gen<double?> Maybe(Gen<double> value) =>
        Gen.Frequency((1, Gen.Constant((double?)null)), (3, value.Select(number => (double?)number)));
}
