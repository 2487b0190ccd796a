namespace Leadwright.Populations;

/// <summary>How the check did on a population.</summary>
internal sealed class Score
{
    private readonly int[] _inDecile = new int[10];
    private readonly int[] _rightInDecile = new int[10];
    private readonly double[] _confidenceInDecile = new double[10];
    private double _brier;
    private double _brierOfRight;

    public int Count { get; private set; }
    public int Right { get; private set; }
    public int TrulyRight { get; private set; }
    public int FalseAlarms { get; private set; }
    public int Missed { get; private set; }
    public int Undecided { get; private set; }
    public int ConfidentlyWrong { get; private set; }

    /// <summary>Cases in which a current that was read changed with a load.</summary>
    public int WithSteps { get; private set; }
    public int RightWithSteps { get; private set; }

    public double Brier => _brier / Math.Max(Count, 1);

    /// <summary>Brier score of the probability that every lead and clamp is right.</summary>
    public double BrierOfRight => _brierOfRight / Math.Max(Count, 1);

    public void Add(Outcome outcome)
    {
        Count++;
        if (outcome.NamedRight) Right++;
        if (outcome.HasSteps) WithSteps++;
        if (outcome.HasSteps && outcome.NamedRight) RightWithSteps++;
        if (outcome.HookupIsRight) TrulyRight++;
        if (outcome.HookupIsRight && outcome.SaysFaulty) FalseAlarms++;
        if (!outcome.HookupIsRight && outcome.SaysCorrect) Missed++;
        if (!outcome.SaysFaulty && !outcome.SaysCorrect) Undecided++;
        if (outcome.Confidence >= 0.95 && !outcome.NamedRight) ConfidentlyWrong++;
        var miss = outcome.Confidence - (outcome.NamedRight ? 1 : 0);
        _brier += miss * miss;
        var missOfRight = outcome.ProbabilityCorrect - (outcome.HookupIsRight ? 1 : 0);
        _brierOfRight += missOfRight * missOfRight;
        var decile = Math.Clamp((int)(outcome.Confidence * 10), 0, 9);
        _inDecile[decile]++;
        _confidenceInDecile[decile] += outcome.Confidence;
        if (outcome.NamedRight) _rightInDecile[decile]++;
    }

    public void Add(Score other)
    {
        Count += other.Count;
        Right += other.Right;
        TrulyRight += other.TrulyRight;
        WithSteps += other.WithSteps;
        RightWithSteps += other.RightWithSteps;
        FalseAlarms += other.FalseAlarms;
        Missed += other.Missed;
        Undecided += other.Undecided;
        ConfidentlyWrong += other.ConfidentlyWrong;
        _brier += other._brier;
        _brierOfRight += other._brierOfRight;
        for (var decile = 0; decile < 10; decile++)
        {
            _inDecile[decile] += other._inDecile[decile];
            _rightInDecile[decile] += other._rightInDecile[decile];
            _confidenceInDecile[decile] += other._confidenceInDecile[decile];
        }
    }

    public IEnumerable<(double From, int Count, double MeanConfidence, double ShareRight)> Reliability()
    {
        for (var decile = 0; decile < 10; decile++)
        {
            if (_inDecile[decile] > 0)
            {
                yield return (decile / 10.0, _inDecile[decile], _confidenceInDecile[decile] / _inDecile[decile],
                    (double)_rightInDecile[decile] / _inDecile[decile]);
            }
        }
    }
}

/// <summary>One case judged.</summary>
internal readonly record struct Outcome(
    bool HookupIsRight, bool NamedRight, bool SaysFaulty, bool SaysCorrect, double Confidence, double ProbabilityCorrect, bool HasSteps);
