namespace Leadwright.Core.Hookups.Hypotheses;

/// <summary>Arrangements of the leads that differ only in the names of the lines: their voltages are equally likely.</summary>
/// <param name="Representative">The one that is weighed.</param>
/// <param name="Members">All of them, each with the number of the relabelling that turns the representative into it.</param>
internal sealed record LeadOrbit(LeadMap Representative, List<(LeadMap Map, int Relabelling)> Members)
{
    /// <summary>Groups arrangements into orbits.</summary>
    public static List<LeadOrbit> Group(Service service, List<LeadMap> maps)
    {
        var relabellings = Relabelling.Of(service);
        var byCode = maps.ToDictionary(map => Code(map.On, map.Rotation, map.Singular));
        var taken = new HashSet<int>();
        var orbits = new List<LeadOrbit>();
        var on = new int[4];
        // The likeliest of each stands for it: in its names the likely slips of the clamps are listed with a wrong ratio on top.
        foreach (var map in maps.OrderByDescending(map => map.LogPrior))
        {
            if (taken.Contains(Code(map.On, map.Rotation, map.Singular))) continue;
            var members = new List<(LeadMap, int)>();
            for (var number = 0; number < relabellings.Length; number++)
            {
                for (var lead = 0; lead < 4; lead++)
                    on[lead] = map.On[lead] < 0 ? -1 : relabellings[number].To[map.On[lead]];
                var rotation = service.HasRotation ? relabellings[number].Apply(map.Rotation) : map.Rotation;
                // A rotation that the indicator ruled out has no map; a map that comes back to itself is counted once.
                var code = Code(on, rotation, map.Singular < 0 ? -1 : relabellings[number].To[map.Singular]);
                if (byCode.TryGetValue(code, out var member) && taken.Add(code)) members.Add((member, number));
            }

            orbits.Add(new LeadOrbit(map, members));
        }

        return orbits;
    }

    private static int Code(int[] on, Circuits.Rotation rotation, int singular)
    {
        var code = ((int)rotation * 4) + singular + 1;
        foreach (var place in on) code = (code * 6) + place + 1;
        return code;
    }
}
