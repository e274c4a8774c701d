namespace FermentWatch.Monitoring.Batches.Cleaning;

/// <summary>A jump in a compressed series: between the point before <paramref name="Index"/> and that at it. [points, h]</summary>
internal readonly record struct Jump(int Index, double Offset, double Hours);

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

    /// <summary>(1 + rho)/(1 - rho) for a lag-one correlation of 0.5.</summary>
    private const double CorrelationFactor = 3;

    private const double LeastNoise = 0.25;
    private const int LeastPoints = 5;
    private const double LeastSpan = 1;
    private const double ShortestWindow = 6;
    private const double LongestWindow = 24;
    private const int MostJumps = 24;

    private readonly LineSums _sums;
    private readonly double _window;
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
        _window = Math.Clamp(16 * medianInterval, ShortestWindow, LongestWindow);
        _widestGap = Math.Max(2, 3 * medianInterval);
    }

    /// <summary>Length of the lines on either side. [h]</summary>
    public double Window => _window;

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
            var (offset, _) = OffsetAt(found[i].Index, from, until, _window);
            measured.Add(found[i] with { Offset = offset });
        }

        return measured;
    }

    private Jump? Largest(int from, int until)
    {
        Jump? best = null;
        var bestRatio = LeastRatio;
        for (var i = from + LeastPoints; i <= until - LeastPoints; i++)
        {
            var (offset, ratio) = OffsetAt(i, from, until, _window);
            if (ratio > bestRatio && Math.Abs(offset) >= LeastOffset && IsSharp(i, offset, from, until))
            {
                bestRatio = ratio;
                best = new Jump(i, offset, _sums.Hours[i]);
            }
        }

        return best;
    }

    private (double Offset, double Ratio) OffsetAt(int index, int from, int until, double window)
    {
        var hours = _sums.Hours;
        var left = _sums.FirstAtOrAfter(hours[index - 1] - window, from, index);
        var right = _sums.FirstAtOrAfter(hours[index] + window, index, until);
        if (index - left < LeastPoints || right - index < LeastPoints)
        {
            return (0, 0);
        }

        var before = _sums.Through(left, index);
        var after = _sums.Through(index, right);
        if (hours[index - 1] - hours[left] < LeastSpan || hours[right - 1] - hours[index] < LeastSpan)
        {
            return (0, 0);
        }

        var at = (hours[index] + hours[index - 1]) / 2;
        var offset = after.At(at) - before.At(at);
        var freedom = Math.Max(1, before.Count + after.Count - 4);
        var noise = Math.Max((before.Residual + after.Residual) / freedom, LeastNoise * LeastNoise);
        var error = Math.Sqrt(noise * CorrelationFactor * (before.VarianceAt(at) + after.VarianceAt(at)));
        return (offset, Math.Abs(offset) / error);
    }

    private bool IsSharp(int index, double offset, int from, int until)
    {
        var hours = _sums.Hours;
        var gap = hours[index] - hours[index - 1];
        if (gap > _widestGap && !_wasHandledBetween(hours[index - 1], hours[index]))
        {
            return false;
        }

        var (half, _) = OffsetAt(index, from, until, _window / 2);
        if (half != 0 && (Math.Sign(half) != Math.Sign(offset) || Math.Abs(half) < 0.6 * Math.Abs(offset)))
        {
            return false;
        }

        // How the level changes from three readings to the next three, here and around.
        Span<double> around = stackalloc double[16];
        var count = 0;
        for (var j = Math.Max(from + 3, index - 10); j <= Math.Min(until - 3, index + 10); j++)
        {
            if (Math.Abs(j - index) > 2 && count < around.Length)
            {
                around[count++] = Change(j);
            }
        }

        var here = Change(index);
        var usual = Hampel.MedianInPlace(around[..count]);
        for (var j = 0; j < count; j++)
        {
            around[j] = Math.Abs(around[j] - usual);
        }

        var scatter = count == 0 ? 0 : Hampel.NormalFactor * Hampel.MedianInPlace(around[..count]);
        var excess = count == 0 ? here : here - usual;
        return Math.Sign(excess) == Math.Sign(offset) && Math.Abs(excess) > Math.Max(0.5 * Math.Abs(offset), 2.5 * scatter);
    }

    private double Change(int index)
    {
        var points = _sums.Points;
        return MedianOfThree(points[index], points[index + 1], points[index + 2])
            - MedianOfThree(points[index - 1], points[index - 2], points[index - 3]);
    }

    private static double MedianOfThree(double a, double b, double c) => Math.Max(Math.Min(a, b), Math.Min(Math.Max(a, b), c));
}
