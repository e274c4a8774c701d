namespace FermentWatch.Monitoring.Batches.Cleaning;

/// <summary>A least-squares line through a stretch of a series.</summary>
/// <param name="Count">Points in it.</param>
/// <param name="MeanHours">Their mean time. [h]</param>
/// <param name="MeanPoints">Their mean gravity. [points]</param>
/// <param name="Slope">[points/h]</param>
/// <param name="SumSquaredHours">Squared deviations of time, summed. [h²]</param>
/// <param name="Residual">Squared residuals, summed. [points²]</param>
internal readonly record struct Line(int Count, double MeanHours, double MeanPoints, double Slope, double SumSquaredHours, double Residual)
{
    public double At(double hours) => MeanPoints + (Slope * (hours - MeanHours));

    /// <summary>Variance of the line at a time for unit noise.</summary>
    public double VarianceAt(double hours) => SumSquaredHours <= 0 ? 1 : (1.0 / Count) + ((hours - MeanHours) * (hours - MeanHours) / SumSquaredHours);
}

/// <summary>Running sums over a series, from which the line through any stretch follows at once.</summary>
internal sealed class LineSums
{
    private readonly double[] _t;
    private readonly double[] _tt;
    private readonly double[] _y;
    private readonly double[] _ty;
    private readonly double[] _yy;

    public LineSums(double[] hours, double[] points)
    {
        var n = hours.Length;
        Hours = hours;
        Points = points;
        _t = new double[n + 1];
        _tt = new double[n + 1];
        _y = new double[n + 1];
        _ty = new double[n + 1];
        _yy = new double[n + 1];
        var t0 = n > 0 ? hours[n / 2] : 0;
        Origin = t0;
        for (var i = 0; i < n; i++)
        {
            var t = hours[i] - t0;
            var y = points[i];
            _t[i + 1] = _t[i] + t;
            _tt[i + 1] = _tt[i] + (t * t);
            _y[i + 1] = _y[i] + y;
            _ty[i + 1] = _ty[i] + (t * y);
            _yy[i + 1] = _yy[i] + (y * y);
        }
    }

    public double[] Hours { get; }

    public double[] Points { get; }

    private double Origin { get; }

    /// <summary>The line through points <paramref name="from"/> (included) to <paramref name="until"/> (excluded).</summary>
    public Line Through(int from, int until)
    {
        var n = until - from;
        if (n <= 0)
        {
            return default;
        }

        var t = (_t[until] - _t[from]) / n;
        var y = (_y[until] - _y[from]) / n;
        var stt = Math.Max(0, _tt[until] - _tt[from] - (n * t * t));
        var sty = _ty[until] - _ty[from] - (n * t * y);
        var syy = Math.Max(0, _yy[until] - _yy[from] - (n * y * y));
        var slope = stt > 1e-9 ? sty / stt : 0;
        return new Line(n, t + Origin, y, slope, stt, Math.Max(0, syy - (slope * sty)));
    }

    /// <summary>First position at or after <paramref name="from"/> whose time is at least <paramref name="hours"/>.</summary>
    public int FirstAtOrAfter(double hours, int from, int until)
    {
        var low = from;
        var high = until;
        while (low < high)
        {
            var middle = (low + high) >>> 1;
            if (Hours[middle] < hours)
            {
                low = middle + 1;
            }
            else
            {
                high = middle;
            }
        }

        return low;
    }
}
