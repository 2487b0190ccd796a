using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;

namespace Leadwright.Core.Tests.Hookups.Others;

/// <summary>How the check did on one case of the other population.</summary>
/// <param name="Drawn">The case; null where it could not be made into readings.</param>
/// <param name="Said">The verdict; null where there is none.</param>
/// <param name="Failure">What went wrong; empty when nothing did.</param>
internal sealed record OtherScore(OtherCase? Drawn, HookupVerdict? Said, string Failure)
{
    public static OtherScore Of(OtherPopulation population, int number, bool isRight = false)
    {
        OtherCase? drawn = null;
        try
        {
            drawn = population.Case(number, isRight);
            return new OtherScore(drawn, HookupCheck.Judge(drawn.Readings, drawn.Options), "");
        }
        catch (Exception exception) when (exception is InvalidOperationException or ArgumentException or ArithmeticException or IndexOutOfRangeException or NullReferenceException or KeyNotFoundException)
        {
            return new OtherScore(drawn, null, exception.ToString());
        }
    }

    /// <summary>True when the hook-up is right or reads as a right one does.</summary>
    public bool IsRight => Drawn is not null && (Drawn.Truth.IsRight || (Places.Any(place =>
        ReadsAlike.Check(Drawn.Readings, Drawn.Truth, Drawn.Rotation, Conductor.B, Expected, Rotation.Abc, place)
        || ReadsAlike.Check(Drawn.Readings, Drawn.Truth, Drawn.Rotation, Conductor.B, Expected, Rotation.Acb, place))));

    /// <summary>True when a right hook-up, or one that reads as such, is called faulty; not where the very slip was named all the same.</summary>
    public bool IsFalseAlarm => IsRight && Said?.Verdict == Verdict.Faulty && !Drawn!.Truth.Equals(Said.Best.Hookup);

    /// <summary>True when every lead and clamp was named, or one of those that read the same.</summary>
    public bool IsNamed => Drawn is not null && Said is not null && Said.Service == Drawn.Service
        && ((Drawn.Truth.Equals(Said.Best.Hookup) && Said.Best.HighLeg is null or Conductor.B)
            || ReadsAlike.Check(
                Drawn.Readings, Drawn.Truth, Drawn.Rotation, Conductor.B, Said.Best.Hookup, Said.Best.Rotation, Said.Best.HighLeg ?? Conductor.B));

    private Hookup Expected => Hookup.Expected(Drawn!.Truth.Leads.Keys, Drawn.Truth.Clamps.Keys);

    private Conductor[] Places => Drawn!.Service == ServiceKind.HighLeg ? [Conductor.A, Conductor.B, Conductor.C] : [Conductor.B];
}
