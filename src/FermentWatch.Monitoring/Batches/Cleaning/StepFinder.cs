namespace FermentWatch.Monitoring.Batches.Cleaning;

/// <summary>A jump in a compressed series: between the point before <paramref name="Index"/> and that at it, seen in a window. [points, h]</summary>
internal readonly record struct Jump(int Index, double Offset, double Hours, double Window);

/// <summary>Finds sudden lasting jumps in a series from which spikes have been taken out.</summary>
/// <remarks>
/// At every boundary a line is laid through the hours before and one through the hours after; the jump is the difference of the two at
/// the boundary. It counts when it is large against its own error (with correlated noise counted), when lines of half the length say
/// the same (a bend does not) and when most of it happens from one reading to the next (a fast fall does not).
/// </remarks>
internal sealed class StepFinder
{
    private const double LeastOffset = 2;
    private const double LeastRatio = 5;

    /// <summary>(1 + rho)/(1 - rho) for a lag-one correlation of 0.5: so many readings tell as much as one, at least.</summary>
    private const double LeastCorrelation = 3;

    /// <summary>Readings closer than this tell little news. [h]</summary>
    private const double CorrelationHours = 0.5;

    private const double LeastNoise = 0.25;
    private const double LeastSharpness = 0.65;
    private const double LeastScatters = 3;

    /// <summary>Readings on either side between which a jump must show.</summary>
    private const int Few = 5;

    /// <summary>How far around a jump the usual change is looked at. [readings]</summary>
    private const int Reach = 16;

    private const int LeastPoints = 5;
    private const double LeastSpan = 1;
    private const double ShortestWindow = 6;
    private const double LongestWindow = 24;
    private const int MostJumps = 24;
    private const int MostSamples = 2000;
    private const int FewestSamples = 30;

    private readonly LineSums _sums;
    private readonly double[] _windows;
    private readonly double[] _correlations;
    private readonly int[] _runStart;
    private readonly int[] _runEnd;
    private readonly double _widestGap;
    private readonly Func<double, double, bool> _wasHandledBetween;

    /// <summary>Prepares the search.</summary>
    /// <param name="sums">The series.</param>
    /// <param name="medianInterval">Median interval of the sensor. [h]</param>
    /// <param name="wasHandledBetween">Whether readings between two times (h) were set aside: then a jump may lie across a longer gap.</param>
    public StepFinder(LineSums sums, double medianInterval, Func<double, double, bool> wasHandledBetween)
    {
        _sums = sums;
        _wasHandledBetween = wasHandledBetween;
        var shortest = Math.Clamp(16 * medianInterval, ShortestWindow, LongestWindow);
        _windows = shortest < LongestWindow / 2 ? [shortest, 2 * shortest, LongestWindow] : [shortest, LongestWindow];
        _widestGap = Math.Max(1.5, 2 * medianInterval);
        (_runStart, _runEnd) = Runs(sums.Hours, 2 * _widestGap);
        var least = Math.Clamp(CorrelationHours / Math.Max(medianInterval, 1e-3), LeastCorrelation, 60);
        _correlations = new double[_windows.Length];
        for (var i = 0; i < _windows.Length; i++)
        {
            _correlations[i] = Math.Max(least, MeasuredCorrelation(_windows[i]));
        }
    }

    /// <summary>How many readings tell as much as one independent reading would.</summary>
    public double Correlation => _correlations[0];

    public List<Jump> Find()
    {
        var found = new List<Jump>();
        var open = new Stack<(int From, int Until)>();
        open.Push((0, _sums.Hours.Length));
        while (open.Count > 0 && found.Count < MostJumps)
        {
            var (from, until) = open.Pop();
            if (Largest(from, until) is { } jump)
            {
                found.Add(jump);
                open.Push((from, jump.Index));
                open.Push((jump.Index, until));
            }
        }

        found.Sort((left, right) => left.Index.CompareTo(right.Index));
        return Measure(found);
    }

    // Once all places are known, each jump is measured between its neighbors.
    private List<Jump> Measure(List<Jump> found)
    {
        var measured = new List<Jump>(found.Count);
        for (var i = 0; i < found.Count; i++)
        {
            var from = i > 0 ? found[i - 1].Index : 0;
            var until = i + 1 < found.Count ? found[i + 1].Index : _sums.Hours.Length;
            var (offset, _) = OffsetAt(found[i].Index, from, until, found[i].Window, 1);
            if (Math.Abs(offset) >= LeastOffset)
            {
                measured.Add(found[i] with { Offset = offset });
            }
        }

        return measured;
    }

    // Real jumps are rare, so the usual difference of two neighboring lines shows how far the noise reaches. Slow noise makes it many
    // times what independent readings would give.
    private double MeasuredCorrelation(double window)
    {
        var count = _sums.Hours.Length;
        var stride = Math.Max(1, count / MostSamples);
        var ratios = new List<double>(Math.Min(count, 2 * MostSamples));
        for (var i = LeastPoints; i <= count - LeastPoints; i += stride)
        {
            var (offset, ratio) = OffsetAt(i, 0, count, window, 1);
            if (offset != 0)
            {
                ratios.Add(ratio);
            }
        }

        var usual = ratios.Count < FewestSamples ? 0 : Hampel.NormalFactor * Hampel.MedianInPlace(ratios.ToArray());
        return usual * usual;
    }

    private Jump? Largest(int from, int until)
    {
        Jump? best = null;
        var bestRatio = LeastRatio;
        for (var i = from + LeastPoints; i <= until - LeastPoints; i++)
        {
            for (var w = 0; w < _windows.Length; w++)
            {
                var window = _windows[w];
                var (offset, ratio) = OffsetAt(i, from, until, window, _correlations[w]);
                if (ratio > bestRatio && Math.Abs(offset) >= LeastOffset && IsSharp(i, offset, from, until, window))
                {
                    bestRatio = ratio;
                    best = new Jump(i, offset, _sums.Hours[i], window);
                }
            }
        }

        return best;
    }

    private (double Offset, double Ratio) OffsetAt(int index, int from, int until, double window, double correlation)
    {
        var hours = _sums.Hours;
        var (left, right) = EndsOf(index, from, until, window);
        if (index - left < LeastPoints || right - index < LeastPoints)
        {
            return (0, 0);
        }

        var (before, after) = (_sums.Through(left, index), _sums.Through(index, right));
        if (hours[index - 1] - hours[left] < LeastSpan || hours[right - 1] - hours[index] < LeastSpan)
        {
            return (0, 0);
        }

        var at = (hours[index] + hours[index - 1]) / 2;
        var offset = after.At(at) - before.At(at);
        var freedom = Math.Max(1, before.Count + after.Count - 4);
        var noise = Math.Max((before.Residual + after.Residual) / freedom, LeastNoise * LeastNoise);
        var error = Math.Sqrt(noise * correlation * (before.VarianceAt(at) + after.VarianceAt(at)));
        return (offset, Math.Abs(offset) / error);
    }

    private (Line Before, Line After) LinesAt(int index, int from, int until, double window)
    {
        var (left, right) = EndsOf(index, from, until, window);
        return (_sums.Through(left, index), _sums.Through(index, right));
    }

    // A line never reaches over a silence: what a ferment did in it is not known, and a bend in it looks like a jump beside it.
    private (int Left, int Right) EndsOf(int index, int from, int until, double window) => (
        _sums.FirstAtOrAfter(_sums.Hours[index - 1] - window, Math.Max(from, _runStart[index - 1]), index),
        _sums.FirstAtOrAfter(_sums.Hours[index] + window, index, Math.Min(until, _runEnd[index])));

    private static (int[] Start, int[] End) Runs(double[] hours, double widestGap)
    {
        var start = new int[hours.Length];
        var end = new int[hours.Length];
        for (var i = 1; i < hours.Length; i++)
        {
            start[i] = hours[i] - hours[i - 1] > widestGap ? i : start[i - 1];
        }

        for (var i = hours.Length - 1; i >= 0; i--)
        {
            end[i] = i == hours.Length - 1 || start[i + 1] == i + 1 ? i + 1 : end[i + 1];
        }

        return (start, end);
    }

    private bool IsSharp(int index, double offset, int from, int until, double window)
    {
        var hours = _sums.Hours;
        var gap = hours[index] - hours[index - 1];
        if (gap > _widestGap && !_wasHandledBetween(hours[index - 1], hours[index]))
        {
            return false;
        }

        var (before, after) = LinesAt(index, from, until, window);
        var slope = (before.Slope + after.Slope) / 2;
        if (gap > _widestGap && Math.Abs(offset) < Math.Max(2.5, 0.5 * gap * Math.Abs(slope)))
        {
            return false;
        }

        var (half, _) = OffsetAt(index, from, until, window / 2, 1);
        if (half != 0 && (Math.Sign(half) != Math.Sign(offset) || Math.Abs(half) < 0.6 * Math.Abs(offset)))
        {
            return false;
        }

        // How the level changes from a few readings to the next few, beyond the slope: here and around.
        Span<double> around = stackalloc double[2 * Reach];
        var count = 0;
        for (var j = Math.Max(from + Few, index - Reach); j <= Math.Min(until - Few, index + Reach - 1); j++)
        {
            if (Math.Abs(j - index) >= Few)
            {
                around[count++] = Change(j, slope);
            }
        }

        var usual = count == 0 ? 0 : Hampel.MedianInPlace(around[..count]);
        var scatter = count == 0 ? 0 : Hampel.ScaleInPlace(around[..count]);
        var excess = Change(index, slope) - usual;
        return Math.Sign(excess) == Math.Sign(offset)
            && Math.Abs(excess) > Math.Max(LeastSharpness * Math.Abs(offset), LeastScatters * scatter);
    }

    private double Change(int index, double slope)
    {
        Span<double> values = stackalloc double[Few];
        var points = _sums.Points;
        var hours = _sums.Hours;
        var time = 0.0;
        for (var i = 0; i < Few; i++)
        {
            values[i] = points[index + i];
            time += hours[index + i] - hours[index - 1 - i];
        }

        var after = Hampel.MedianInPlace(values);
        for (var i = 0; i < Few; i++)
        {
            values[i] = points[index - 1 - i];
        }

        return after - Hampel.MedianInPlace(values) - (slope * time / Few);
    }
}
