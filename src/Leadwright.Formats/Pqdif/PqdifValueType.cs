namespace Leadwright.Formats.Pqdif;

/// <summary>What the values of a series are.</summary>
/// <remarks>Source: the public header files of the IEEE 1159.3 working group; see docs/formats/pqdif.md.</remarks>
internal static class PqdifValueType
{
    public static readonly Guid Val = new("67f6af97-f753-11cf-9d89-0080c72e70a3");
    public static readonly Guid Time = new("c690e862-f755-11cf-9d89-0080c72e70a3");
    public static readonly Guid Min = new("67f6af98-f753-11cf-9d89-0080c72e70a3");
    public static readonly Guid Max = new("67f6af99-f753-11cf-9d89-0080c72e70a3");
    public static readonly Guid Avg = new("67f6af9a-f753-11cf-9d89-0080c72e70a3");
    public static readonly Guid Inst = new("67f6af9b-f753-11cf-9d89-0080c72e70a3");
    public static readonly Guid Phaseangle = new("3d786f9d-f76e-11cf-9d89-0080c72e70a3");
    public static readonly Guid PhaseangleMin = new("dc762340-3c56-11d2-ae44-0060083a2628");
    public static readonly Guid PhaseangleMax = new("dc762341-3c56-11d2-ae44-0060083a2628");
    public static readonly Guid PhaseangleAvg = new("dc762342-3c56-11d2-ae44-0060083a2628");
    public static readonly Guid Area = new("c7825ce0-8ace-11d3-b92f-0050da2b1f4d");
    public static readonly Guid Duration = new("c690e863-f755-11cf-9d89-0080c72e70a3");
    public static readonly Guid Latitude = new("c690e864-f755-11cf-9d89-0080c72e70a3");
    public static readonly Guid Longitude = new("c690e865-f755-11cf-9d89-0080c72e70a3");
    public static readonly Guid Polarity = new("c690e866-f755-11cf-9d89-0080c72e70a3");
    public static readonly Guid Ellipse = new("c690e867-f755-11cf-9d89-0080c72e70a3");
    public static readonly Guid Frequency = new("c690e868-f755-11cf-9d89-0080c72e70a3");
    public static readonly Guid Binid = new("c690e869-f755-11cf-9d89-0080c72e70a3");
    public static readonly Guid Binhigh = new("c690e86a-f755-11cf-9d89-0080c72e70a3");
    public static readonly Guid Binlow = new("c690e86b-f755-11cf-9d89-0080c72e70a3");
    public static readonly Guid Xbinhigh = new("c690e86c-f755-11cf-9d89-0080c72e70a3");
    public static readonly Guid Xbinlow = new("c690e86d-f755-11cf-9d89-0080c72e70a3");
    public static readonly Guid Ybinhigh = new("c690e86e-f755-11cf-9d89-0080c72e70a3");
    public static readonly Guid Ybinlow = new("c690e86f-f755-11cf-9d89-0080c72e70a3");
    public static readonly Guid Count = new("c690e870-f755-11cf-9d89-0080c72e70a3");
    public static readonly Guid Transition = new("5369c260-c347-11d2-923f-00104b2b84b1");
    public static readonly Guid Prob = new("6763cc71-17d6-11d4-9f1c-002078e0b723");
    public static readonly Guid Interval = new("72e82a40-336c-11d5-a4b3-444553540000");
    public static readonly Guid Status = new("b82b5c82-55c7-11d5-a4b3-444553540000");
    public static readonly Guid P1 = new("67f6af9c-f753-11cf-9d89-0080c72e70a3");
    public static readonly Guid P5 = new("67f6af9d-f753-11cf-9d89-0080c72e70a3");
    public static readonly Guid P10 = new("67f6af9e-f753-11cf-9d89-0080c72e70a3");
    public static readonly Guid P90 = new("67f6af9f-f753-11cf-9d89-0080c72e70a3");
    public static readonly Guid P95 = new("c690e860-f755-11cf-9d89-0080c72e70a3");
    public static readonly Guid P99 = new("c690e861-f755-11cf-9d89-0080c72e70a3");

    private static readonly Dictionary<Guid, string> s_names = new()
    {
        [Val] = "ID_SERIES_VALUE_TYPE_VAL",
        [Time] = "ID_SERIES_VALUE_TYPE_TIME",
        [Min] = "ID_SERIES_VALUE_TYPE_MIN",
        [Max] = "ID_SERIES_VALUE_TYPE_MAX",
        [Avg] = "ID_SERIES_VALUE_TYPE_AVG",
        [Inst] = "ID_SERIES_VALUE_TYPE_INST",
        [Phaseangle] = "ID_SERIES_VALUE_TYPE_PHASEANGLE",
        [PhaseangleMin] = "ID_SERIES_VALUE_TYPE_PHASEANGLE_MIN",
        [PhaseangleMax] = "ID_SERIES_VALUE_TYPE_PHASEANGLE_MAX",
        [PhaseangleAvg] = "ID_SERIES_VALUE_TYPE_PHASEANGLE_AVG",
        [Area] = "ID_SERIES_VALUE_TYPE_AREA",
        [Duration] = "ID_SERIES_VALUE_TYPE_DURATION",
        [Latitude] = "ID_SERIES_VALUE_TYPE_LATITUDE",
        [Longitude] = "ID_SERIES_VALUE_TYPE_LONGITUDE",
        [Polarity] = "ID_SERIES_VALUE_TYPE_POLARITY",
        [Ellipse] = "ID_SERIES_VALUE_TYPE_ELLIPSE",
        [Frequency] = "ID_SERIES_VALUE_TYPE_FREQUENCY",
        [Binid] = "ID_SERIES_VALUE_TYPE_BINID",
        [Binhigh] = "ID_SERIES_VALUE_TYPE_BINHIGH",
        [Binlow] = "ID_SERIES_VALUE_TYPE_BINLOW",
        [Xbinhigh] = "ID_SERIES_VALUE_TYPE_XBINHIGH",
        [Xbinlow] = "ID_SERIES_VALUE_TYPE_XBINLOW",
        [Ybinhigh] = "ID_SERIES_VALUE_TYPE_YBINHIGH",
        [Ybinlow] = "ID_SERIES_VALUE_TYPE_YBINLOW",
        [Count] = "ID_SERIES_VALUE_TYPE_COUNT",
        [Transition] = "ID_SERIES_VALUE_TYPE_TRANSITION",
        [Prob] = "ID_SERIES_VALUE_TYPE_PROB",
        [Interval] = "ID_SERIES_VALUE_TYPE_INTERVAL",
        [Status] = "ID_SERIES_VALUE_TYPE_STATUS",
        [P1] = "ID_SERIES_VALUE_TYPE_P1",
        [P5] = "ID_SERIES_VALUE_TYPE_P5",
        [P10] = "ID_SERIES_VALUE_TYPE_P10",
        [P90] = "ID_SERIES_VALUE_TYPE_P90",
        [P95] = "ID_SERIES_VALUE_TYPE_P95",
        [P99] = "ID_SERIES_VALUE_TYPE_P99",
    };

    /// <summary>The standard's name; the identifier itself when it is none of version 1.5.</summary>
    public static string NameOf(Guid id) => s_names.TryGetValue(id, out var name) ? name : id.ToString();
}
