using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Settling;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Practice.Forms;

/// <summary>One screen, two answers: which of some readings and switching actions comes out differently under the two?</summary>
/// <remarks>What is right is found by doing each of them on both simulated sites.</remarks>
internal sealed class WhatNextForm : IPracticeForm
{
    // A hand clamp and a meter are no better than this together with the recorder.
    private const double SeenFraction = 0.05;

    private static readonly ImmutableArray<SettlingAction> s_offered =
    [
        new(SettlingKind.Rotation),
        new(SettlingKind.Meter) { AtLead = Lead.V1, ToLead = Lead.V2 },
        new(SettlingKind.HandClamp) { AtConductor = Conductor.A },
        new(SettlingKind.Motor),
        new(SettlingKind.Switched) { AtConductor = Conductor.A },
    ];

    public Exercise Make(ExerciseKey key)
    {
        var random = new SeededRandom(key.Seed).Fork(102);
        var rating = new[] { 50.0, 100, 200 }[random.Below(3)];
        var lag = random.Uniform(26, 38);
        var isLeading = random.Chance(0.5);
        var size = rating * random.Uniform(0.2, 0.6);
        double[] amperes = key.Level == 1
            ? [size, size * random.Uniform(0.99, 1.01), size * random.Uniform(0.99, 1.01)]
            : [size, size * random.Uniform(0.7, 0.85), size * random.Uniform(1.1, 1.3)];
        var read = isLeading ? -lag : lag;
        var other = isLeading ? TwinSites.ForwardTurned : TwinSites.BackTurned;
        var right = TwinSites.Of(TwinSites.Right, read, amperes, rating, key.Seed);
        var turned = TwinSites.Of(other, read, amperes, rating, key.Seed);
        var site = random.Chance(0.5) ? right : turned;
        return new Exercise
        {
            Key = key,
            Service = ServiceKind.Wye,
            Nominal = site.Panel.Source.Nominal,
            Readings = site.Readings,
            Known = new CheckOptions { Load = LoadKind.Unknown },
            Candidates = [TwinSites.Right, other],
            Choices = [.. s_offered.Select(action => action.Id)],
            RightChoices = [.. s_offered.Where(action => Differs(right.Take(action).Answer, turned.Take(action).Answer)).Select(action => action.Id)],
            Site = site,
        };
    }

    private static bool Differs(string one, string other)
    {
        if (!double.TryParse(one, NumberStyles.Float, CultureInfo.InvariantCulture, out var first)
            || !double.TryParse(other, NumberStyles.Float, CultureInfo.InvariantCulture, out var second))
            return one != other;
        return Math.Abs(first - second) > SeenFraction * Math.Max(first, second);
    }
}
