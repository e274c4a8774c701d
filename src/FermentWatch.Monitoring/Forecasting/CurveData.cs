using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Forecasting;

/// <summary>The readings as the fit sees them: since the inoculation, or since the last addition of sugar.</summary>
internal sealed class CurveData
{
    /// <summary>Points per fit at most; denser histories are merged, which moves no parameter noticeably.</summary>
    public const int MostPoints = 300;

    private const double StepPoints = 6;

    // A curve without length has no grid: a few seconds are enough.
    private const double ShortestHours = 1e-3;

    private CurveData(EventTime origin, double nowHours) => (Origin, NowHours) = (origin, Math.Max(nowHours, ShortestHours));

    /// <summary>Start of the curve.</summary>
    public EventTime Origin { get; }

    /// <summary>Hours from the start to now, more than 0.</summary>
    public double NowHours { get; }

    /// <summary>Hours since the start of the curve, rising.</summary>
    public double[] Hours { get; private init; } = [];

    /// <summary>Gravity. [points]</summary>
    public double[] Points { get; private init; } = [];

    /// <summary>Standard deviation of a point relative to that of a full one.</summary>
    public double[] RelativeSpread { get; private init; } = [];

    /// <summary>Whether the curve starts at an addition instead of the inoculation.</summary>
    public bool Restarted { get; private init; }

    /// <summary>When sugar last came in, told or seen; null for never.</summary>
    public EventTime? SugarAt { get; private init; }

    /// <summary>Points used up before the start of the curve.</summary>
    public double UsedBefore { get; private init; }

    /// <summary>Number of points.</summary>
    public int Count => Hours.Length;

    /// <summary>Sorts, drops what lies outside the time of the ferment, and finds the last addition.</summary>
    public static CurveData From(ForecastInput input)
    {
        var nowHours = Math.Max(0, (input.AsOf - input.InoculatedAt).TotalHours);
        var kept = input.Gravity
            .Where(p => p.At >= input.InoculatedAt && p.At <= input.AsOf)
            .OrderBy(p => p.At).ThenBy(p => p.Gravity).ThenBy(p => p.Count)
            .Select(p => (Hours: (p.At - input.InoculatedAt).TotalHours, p.Gravity.Points, Weight: (double)Math.Max(p.Count, 1)))
            .ToArray();
        var hours = Array.ConvertAll(kept, k => k.Hours);
        var points = Array.ConvertAll(kept, k => k.Points);
        var weights = Array.ConvertAll(kept, k => k.Weight);
        var start = 0;
        double used = 0, offset = 0;
        var toldLast = LastSugar(input);
        var lastSugar = toldLast;
        var original = input.OriginalGravity?.Points;
        for (var i = 1; i < kept.Length; i++)
        {
            if (RiseAt(hours, points, i) is not { } rise)
            {
                continue;
            }

            used += Math.Max(0, (original ?? points[start]) - rise.Before);
            original = rise.After;
            (start, offset) = (i, hours[i]);
            lastSugar = Math.Max(lastSugar ?? 0, offset);
            i = rise.Settled;
        }

        // An addition that the maker wrote down but that no clear rise shows (small, or too recent) restarts the curve as well.
        if (toldLast is { } told && told > offset + 6)
        {
            BeginAt(told);
        }

        // What it did before it slept in the cold says little about how it goes on: activity, and what the yeast still lacks, are others now.
        if (Thaw.LastAt(input.Temperature, input.InoculatedAt, input.AsOf) is { } thawed && thawed > offset + 6)
        {
            BeginAt(thawed);
        }

        // What was used since the last beginning is counted once, from the level at which it began.
        void BeginAt(double at)
        {
            var first = Array.FindIndex(hours, h => h >= at);
            var end = first < 0 ? points.Length : first;
            if (Level(points.AsSpan(start, end - start), 6, last: true) is { } before)
            {
                used += Math.Max(0, (original ?? points[start]) - before);
            }

            original = null;
            (start, offset) = (end, at);
        }

        var (h, p, w) = Thin(hours.AsSpan(start), points.AsSpan(start), weights.AsSpan(start), offset);
        var usual = w.Length == 0 ? 1 : Median(w);
        return new CurveData(input.InoculatedAt + TimeSpan.FromHours(offset), nowHours - offset)
        {
            Hours = h,
            Points = p,
            RelativeSpread = Array.ConvertAll(w, x => Math.Sqrt((usual + 1) / (Math.Min(x, usual) + 1))),
            Restarted = offset > 0,
            SugarAt = lastSugar is { } came ? input.InoculatedAt + TimeSpan.FromHours(came) : null,
            UsedBefore = used,
        };
    }

    /// <summary>The points up to an hour, as they were then.</summary>
    public CurveData UpTo(double hours)
    {
        var count = Array.FindLastIndex(Hours, hour => hour <= hours) + 1;
        return new CurveData(Origin, Math.Min(hours, NowHours))
        {
            Hours = Hours[..count],
            Points = Points[..count],
            RelativeSpread = RelativeSpread[..count],
            Restarted = Restarted,
            SugarAt = SugarAt,
            UsedBefore = UsedBefore,
        };
    }

    /// <summary>Median of a copy of the numbers; 0 for none.</summary>
    public static double Median(ReadOnlySpan<double> values)
    {
        if (values.Length == 0)
        {
            return 0;
        }

        var copy = values.ToArray();
        Array.Sort(copy);
        return (copy[(copy.Length - 1) / 2] + copy[copy.Length / 2]) / 2;
    }

    private static double? LastSugar(ForecastInput input)
    {
        double? last = null;
        foreach (var entry in input.Events)
        {
            if (entry.IsSugar && entry.At <= input.AsOf && entry.At > input.InoculatedAt)
            {
                last = Math.Max(last ?? 0, (entry.At - input.InoculatedAt).TotalHours);
            }
        }

        return last;
    }

    private static double? Level(ReadOnlySpan<double> points, int count, bool last)
    {
        var taken = Math.Min(count, points.Length);
        return taken == 0 ? null : Median(last ? points[^taken..] : points[..taken]);
    }

    /// <summary>A lasting rise just before point <paramref name="i"/>: foam falls back within hours, sugar does not.</summary>
    private static (double Before, double After, int Settled)? RiseAt(double[] hours, double[] points, int i)
    {
        if (points[i] - points[i - 1] < StepPoints / 2)
        {
            return null;
        }

        var first = i - 1;
        while (first > 0 && i - first < 6 && hours[i - 1] - hours[first - 1] <= 12)
        {
            first--;
        }

        var settled = i;
        while (settled < hours.Length && hours[settled] - hours[i] <= 12)
        {
            settled++;
        }

        var later = i;
        while (later < settled && hours[later] - hours[i] < 6)
        {
            later++;
        }

        if (settled - later < 3)
        {
            return null;
        }

        var before = Median(points.AsSpan(first, i - first));
        var early = Median(points.AsSpan(i, Math.Min(6, settled - i)));
        var late = Median(points.AsSpan(later, settled - later));
        return early - before >= StepPoints && late - before >= StepPoints / 2 ? (before, early, settled - 1) : null;
    }

    private static (double[] Hours, double[] Points, double[] Weights) Thin(
        ReadOnlySpan<double> hours, ReadOnlySpan<double> points, ReadOnlySpan<double> weights, double offset)
    {
        var group = Math.Max(1, (int)Math.Ceiling(hours.Length / (double)MostPoints));
        var count = (hours.Length + group - 1) / group;
        double[] h = new double[count], p = new double[count], w = new double[count];
        for (var k = 0; k < count; k++)
        {
            var from = k * group;
            var until = Math.Min(from + group, hours.Length);
            for (var i = from; i < until; i++)
            {
                w[k] += weights[i];
                h[k] += weights[i] * (hours[i] - offset);
                p[k] += weights[i] * points[i];
            }

            h[k] /= w[k];
            p[k] /= w[k];
        }

        return (h, p, w);
    }
}
