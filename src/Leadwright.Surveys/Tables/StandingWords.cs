using Leadwright.Core.Logs;

namespace Leadwright.Surveys.Tables;

/// <summary>Words of standings in tables.</summary>
internal static class StandingWords
{
    public static string Of(Standing standing) => standing switch
    {
        Standing.Mended => "mended",
        Standing.Modelled => "modelled",
        Standing.Lost => "lost",
        _ => "measured",
    };

    /// <summary>The standing of a word; an empty cell is lost, a word that is none of ours too: nothing is taken for better than it says.</summary>
    public static Standing Read(string? word) => word switch
    {
        "measured" => Standing.Measured,
        "mended" => Standing.Mended,
        "modelled" => Standing.Modelled,
        _ => Standing.Lost,
    };
}
