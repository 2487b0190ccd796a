using Leadwright.Core.Circuits;

namespace Leadwright.Core.Panels.Weeks;

/// <summary>One pass through the steps of a virtual week.</summary>
internal sealed class WeekPass
{
    private readonly WeekRecipe _recipe;
    private readonly int _stepSeconds;
    private readonly SeededRandom _loadRandom;
    private readonly SeededRandom _solarRandom;
    private readonly List<SiteLoad> _loads;
    private readonly WeekSupply _supply;
    private readonly WeekCircuit _circuit;
    private readonly double _solarPeak;
    private double _cloud;

    public WeekPass(WeekRecipe recipe, int stepSeconds, double limitAmperes)
    {
        (_recipe, _stepSeconds) = (recipe, stepSeconds);
        var root = new SeededRandom(recipe.Seed);
        var draw = root.Fork(1);
        _loadRandom = root.Fork(2);
        _solarRandom = root.Fork(5);
        ReadOnlySpan<double> ratings = [60, 100, 200, 400];
        RatingAmperes = ratings[draw.Below(ratings.Length)];
        _loads = SiteLoads.Draw(recipe, RatingAmperes, draw);

        // At full rated current the voltage drops by one to four percent.
        var ohms = draw.Uniform(0.01, 0.04) * recipe.Nominal.LineToNeutralVolts / RatingAmperes;
        var (sine, cosine) = Math.SinCos(Math.Atan(draw.Uniform(0.4, 2)));
        var neutral = draw.Uniform(0.8, 2);
        _supply = new WeekSupply(recipe, root.Fork(3));
        _circuit = new WeekCircuit(recipe, _loads, new Phasor(ohms * cosine, ohms * sine), new Phasor(neutral * ohms * cosine, neutral * ohms * sine));
        _solarPeak = recipe.HasSolar ? draw.Uniform(0.2, 0.7) * RatingAmperes * recipe.Nominal.LineToNeutralVolts * SiteLoads.LinesOf(recipe.Service) : 0;
        Recorder = new WeekRecorder(recipe, RatingAmperes, root.Fork(4)) { LimitAmperes = limitAmperes };
    }

    public WeekRecorder Recorder { get; }

    public double RatingAmperes { get; }

    public double LargestAmperes { get; private set; }

    public double[] LineEnergy { get; } = new double[3];

    /// <summary>Goes through the steps of one interval.</summary>
    public void Row(int row, int steps)
    {
        Span<Phasor> source = stackalloc Phasor[3];
        for (var step = 0; step < steps; step++)
        {
            var seconds = ((double)row * _recipe.IntervalSeconds) + ((step + 0.5) * _stepSeconds);
            var time = _recipe.Start.AddSeconds(seconds);
            var hour = time.TimeOfDay.TotalHours;
            var isWorkday = time.DayOfWeek is not (DayOfWeek.Saturday or DayOfWeek.Sunday);
            foreach (var load in _loads) load.Move(hour, isWorkday, _stepSeconds, _loadRandom);
            _supply.Move(seconds, hour, _stepSeconds, source);
            _circuit.Solve(_supply, source, Solar(hour), _stepSeconds);
            Recorder.Take(seconds, _supply.Hertz, _circuit);
            for (var line = 0; line < 3; line++)
            {
                LineEnergy[line] += Recorder.TrueWatts[line] * _stepSeconds / 3600;
                LargestAmperes = Math.Max(LargestAmperes, _circuit.Currents[line].Magnitude);
            }
        }
    }

    private double Solar(double hour)
    {
        if (_solarPeak <= 0) return 0;
        var keep = Math.Exp(-_stepSeconds / 900.0);
        _cloud = (keep * _cloud) + (Math.Sqrt(1 - (keep * keep)) * _solarRandom.Gaussian());
        var sun = Math.Max(0, Math.Cos((hour - 12.5) * Math.PI / 12));
        return _solarPeak * Math.Pow(sun, 1.3) / (1 + Math.Exp(1.5 * _cloud));
    }
}
