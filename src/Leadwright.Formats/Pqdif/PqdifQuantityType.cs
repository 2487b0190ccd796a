namespace Leadwright.Formats.Pqdif;

/// <summary>Kinds of channels.</summary>
/// <remarks>Source: the public header files of the IEEE 1159.3 working group; see docs/formats/pqdif.md.</remarks>
internal static class PqdifQuantityType
{
    public static readonly Guid Waveform = new("67f6af80-f753-11cf-9d89-0080c72e70a3");
    public static readonly Guid Phasor = new("67f6af81-f753-11cf-9d89-0080c72e70a3");
    public static readonly Guid Valuelog = new("67f6af82-f753-11cf-9d89-0080c72e70a3");
    public static readonly Guid Flash = new("67f6af83-f753-11cf-9d89-0080c72e70a3");
    public static readonly Guid Response = new("67f6af85-f753-11cf-9d89-0080c72e70a3");
    public static readonly Guid Histogram = new("67f6af87-f753-11cf-9d89-0080c72e70a3");
    public static readonly Guid Histogram3d = new("67f6af88-f753-11cf-9d89-0080c72e70a3");
    public static readonly Guid Cpf = new("67f6af89-f753-11cf-9d89-0080c72e70a3");
    public static readonly Guid Xy = new("67f6af8a-f753-11cf-9d89-0080c72e70a3");
    public static readonly Guid Magdur = new("67f6af8b-f753-11cf-9d89-0080c72e70a3");
    public static readonly Guid Xyz = new("67f6af8c-f753-11cf-9d89-0080c72e70a3");
    public static readonly Guid Magdurtime = new("67f6af8d-f753-11cf-9d89-0080c72e70a3");
    public static readonly Guid Magdurcount = new("67f6af8e-f753-11cf-9d89-0080c72e70a3");

    private static readonly Dictionary<Guid, string> s_names = new()
    {
        [Waveform] = "ID_QT_WAVEFORM",
        [Phasor] = "ID_QT_PHASOR",
        [Valuelog] = "ID_QT_VALUELOG",
        [Flash] = "ID_QT_FLASH",
        [Response] = "ID_QT_RESPONSE",
        [Histogram] = "ID_QT_HISTOGRAM",
        [Histogram3d] = "ID_QT_HISTOGRAM3D",
        [Cpf] = "ID_QT_CPF",
        [Xy] = "ID_QT_XY",
        [Magdur] = "ID_QT_MAGDUR",
        [Xyz] = "ID_QT_XYZ",
        [Magdurtime] = "ID_QT_MAGDURTIME",
        [Magdurcount] = "ID_QT_MAGDURCOUNT",
    };

    /// <summary>The standard's name; the identifier itself when it is none of version 1.5.</summary>
    public static string NameOf(Guid id) => s_names.TryGetValue(id, out var name) ? name : id.ToString();
}
