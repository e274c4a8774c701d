using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Monitoring.Forecasting;

/// <summary>Turns the profile of the end into quantiles and into twenty equally likely ways on.</summary>
internal sealed class EndOdds
{
    private const double FutureLimitHours = 120 * 24;
    private const int FutureCount = 20;
    private const double BlurPart = 0.005;
    private const double Blur = 0.9;
    private const double DoubtShare = 0.04;
    private const int FuturePoints = 40;

    // An end so far above where a ferment ends that nothing stops is reached by curves that lose their activity. The prior of that loss is wide and
    // knows no other ferments: such an end is given six tenths of its weight, by which 864 drawn ferments were foreseen best.
    private const double HighEndPoints = 4;
    private const double HighEndWidth = 1;
    private const double HighEndDoubt = 0.5;

    private readonly List<EndNode> _nodes;
    private readonly FermentCurve _curve;
    private readonly CurveData _data;
    private readonly double[] _weights;
    private readonly Mixture _ends = new();
    private readonly Mixture _finishes;
    private readonly double _lowest;
    private readonly double _highest;

    /// <param name="nodes">The profile, by rising end.</param>
    /// <param name="curve">The grid.</param>
    /// <param name="data">Start of the curve and now.</param>
    /// <param name="usual">Where a ferment ends that nothing stops: mean and standard deviation. [points]</param>
    /// <param name="stay">The fork of staying where it is.</param>
    public EndOdds(List<EndNode> nodes, FermentCurve curve, CurveData data, (double Mean, double Spread) usual, StayOdds stay)
    {
        (_nodes, _curve, _data) = (nodes, curve, data);
        _finishes = new Mixture(data.NowHours);
        _weights = new double[nodes.Count];
        var highest = nodes.Max(n => n.LogDensity);
        for (var i = 0; i < nodes.Count; i++)
        {
            if (i + 1 < nodes.Count)
            {
                Spread(i, highest, usual.Mean);
            }
        }

        if (nodes.Count == 1)
        {
            _weights[0] = 1;
            _ends.Add(1, nodes[0].End, BlurAt(nodes[0].End));
        }

        for (var i = 0; i < nodes.Count; i++)
        {
            _finishes.Add(_weights[i], nodes[i].FinishHours, Math.Max(3, nodes[i].FinishSpread * 1.1));
        }

        Doubt(usual);
        if (stay.Weight > 0)
        {
            _ends.AddShare(stay.Weight, stay.Level, stay.Spread);
            _finishes.AddShare(stay.Weight, stay.FinishHours, 12);
        }

        var fork = stay.Weight > 0 ? stay.Level : Level;
        (_lowest, _highest) = (Math.Min(Math.Min(_nodes[0].End, fork), Math.Min(usual.Mean, Level)), Math.Max(_nodes[^1].End, Math.Max(fork, Level)));
    }

    /// <summary>Present gravity by the fitted curve. [points]</summary>
    public double Level => _nodes[0].Gravity[_curve.PastCount];

    /// <summary>Quantile of the final gravity. [points]</summary>
    public double End(double probability) =>
        _ends.Quantile(probability, _lowest - 30, _highest + 30);

    /// <summary>Quantile of the finish; null when it is not in sight.</summary>
    public EventTime? Finish(double probability)
    {
        var hours = _finishes.Quantile(probability, -200, _data.NowHours + FutureLimitHours + 1);
        return hours > _data.NowHours + FutureLimitHours ? null : _data.Origin + TimeSpan.FromHours(Math.Max(hours, 0));
    }

    /// <summary>Twenty ways on by finish, at 2.5, 7.5 ... 97.5 % of the odds; empty when the finish lies behind.</summary>
    public ValueList<FutureCurve> Futures()
    {
        if (Finish(0.5) is { } half && half <= _data.Origin + TimeSpan.FromHours(_data.NowHours))
        {
            return ValueList.Of<FutureCurve>();
        }

        var particles = new List<(double Finish, double Weight, int Node, double Stretch)>();
        foreach (var (z, weight) in new[] { (-1.6, 0.11), (-0.75, 0.22), (0, 0.34), (0.75, 0.22), (1.6, 0.11) })
        {
            for (var i = 0; i < _nodes.Count; i++)
            {
                var ahead = _nodes[i].FinishHours - _data.NowHours;
                var stretch = ahead <= 0 ? 1 : Math.Exp(z * Math.Clamp(_nodes[i].FinishSpread * 1.1 / ahead, 0.02, 1.5));
                var finish = ahead <= 0 ? _nodes[i].FinishHours : _data.NowHours + Math.Min(ahead * stretch, FutureLimitHours);
                particles.Add((finish, weight * _weights[i], i, stretch));
            }
        }

        particles.Sort();
        var total = particles.Sum(p => p.Weight);
        var curves = new List<FutureCurve>(FutureCount);
        var index = 0;
        var passed = particles[0].Weight;
        for (var k = 0; k < FutureCount; k++)
        {
            while (passed < (k + 0.5) / FutureCount * total && index + 1 < particles.Count)
            {
                passed += particles[++index].Weight;
            }

            var (finish, _, node, stretch) = particles[index];
            curves.Add(CurveOf(_nodes[node], finish, stretch));
        }

        return ValueList.Of<FutureCurve>(curves);
    }

    /// <summary>Points as a gravity, kept within what a gravity can be.</summary>
    public static SpecificGravity Gravity(double points) => SpecificGravity.FromPoints(Math.Clamp(points, -290, 590));

    /// <summary>The curve itself may be the wrong one: then it ends as usual, or anywhere on the way there.</summary>
    private void Doubt((double Mean, double Spread) usual)
    {
        var level = Level;
        var mean = Math.Min(usual.Mean, level);
        _ends.AddShare(DoubtShare / 2, mean, usual.Spread);
        _ends.AddShare(DoubtShare / 2, (mean + level) / 2, Math.Max(1, (level - mean) / 3.5));
    }

    /// <summary>The further the end lies below the present level, the more the curve may be wrong about it.</summary>
    private double BlurAt(double end) =>
        Blur + (BlurPart * Math.Max(0, Level - end));

    private void Spread(int i, double highest, double usual)
    {
        const int Parts = 8;
        var (low, high) = (_nodes[i], _nodes[i + 1]);
        var width = (high.End - low.End) / Parts;
        for (var k = 0; k < Parts; k++)
        {
            var part = (k + 0.5) / Parts;
            var end = low.End + (part * width * Parts);
            var doubt = HighEndDoubt / (1 + Math.Exp((usual + HighEndPoints - end) / HighEndWidth));
            var weight = width * Math.Exp(low.LogDensity + (part * (high.LogDensity - low.LogDensity)) - highest - doubt);
            _ends.Add(weight, end, BlurAt(end));
            _weights[i] += weight * (1 - part);
            _weights[i + 1] += weight * part;
        }
    }

    private FutureCurve CurveOf(EndNode node, double finish, double stretch)
    {
        var now = _data.NowHours;
        var points = new List<CurvePoint>(FuturePoints);
        var ahead = Math.Max(0, finish - now);
        var count = ahead > 0 ? FuturePoints : 1;
        for (var k = 0; k < count; k++)
        {
            // Denser at first: that is where the curve bends.
            var part = count == 1 ? 0 : k / (count - 1.0);
            var later = ahead * part * (0.5 + (0.5 * part));
            points.Add(new CurvePoint(_data.Origin + TimeSpan.FromHours(now + later), Gravity(LevelAt(node.Gravity, now + (later / stretch)))));
        }

        return new FutureCurve(_data.Origin + TimeSpan.FromHours(finish), Gravity(node.End), ValueList.Of<CurvePoint>(points));
    }

    private double LevelAt(double[] gravity, double hours)
    {
        var index = Array.BinarySearch(_curve.Hours, hours);
        index = index >= 0 ? index : ~index;
        if (index <= 0 || index >= gravity.Length)
        {
            return gravity[Math.Clamp(index, 0, gravity.Length - 1)];
        }

        // The grid may hold an hour twice, as when the curve begins now.
        var width = _curve.Hours[index] - _curve.Hours[index - 1];
        var part = width > 0 ? (hours - _curve.Hours[index - 1]) / width : 1;
        return gravity[index - 1] + (part * (gravity[index] - gravity[index - 1]));
    }
}
