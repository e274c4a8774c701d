using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Service.Dashboard.Words;

namespace FermentWatch.Service.Dashboard.Pictures;

/// <summary>Which stretch of time and of heights a curve picture shows.</summary>
internal sealed record CurveWindow(EventTime From, EventTime Until, double Low, double High, double Step)
{
    private const double TailSugar = 30;
    private const double TailGravity = 0.012;
    private const double LeastDegrees = 3;

    // Where the tail begins does not depend on who reads it.
    private static readonly Reader SpecificGravityReader = new(TimeZoneInfo.Utc);

    /// <summary>Futures that may be drawn: none where the forecast says 'not yet'.</summary>
    public static IReadOnlyList<FutureCurve> FuturesOf(BatchView view) =>
        view.Forecast is { NotYet: null } forecast ? forecast.Futures : [];

    /// <summary>Start of the tail: when the curve, or the earliest future, falls below the last tenth; null when that is not in sight.</summary>
    public static EventTime? TailStart(BatchView view)
    {
        var scale = CurveScale.For(view, CurveKind.Sugar, SpecificGravityReader);
        var futures = FuturesOf(view);
        var limit = scale.Kind == CurveKind.Sugar ? TailSugar : (view.Forecast?.FinalGravity.P50.Value ?? 0) + TailGravity;
        // Nothing that is higher than what was above the limit needs to be computed.
        var above = 0d;
        foreach (var point in view.Gravity)
        {
            if (above == 0 || point.Gravity.Value < above)
            {
                if (scale.Value(point.Gravity) <= limit)
                {
                    return point.At;
                }

                above = point.Gravity.Value;
            }
        }

        return futures.SelectMany(future => future.Points.Where(point => scale.Value(point.Gravity) <= limit).Take(1))
            .Select(point => (EventTime?)point.At).Min();
    }

    /// <summary>All there is to show: from the beginning to the last possible end.</summary>
    public static Stretch Whole(BatchView view)
    {
        var futures = FuturesOf(view);
        var first = view.Gravity.Count > 0 && view.Gravity[0].At < view.Batch.InoculatedAt ? view.Gravity[0].At : view.Batch.InoculatedAt;
        var last = futures.Count > 0 && futures[^1].Finish > view.Now ? futures[^1].Finish : view.Now;
        if (last - first < TimeSpan.FromHours(6))
        {
            last = first + TimeSpan.FromHours(6);
        }

        // Without futures now stands at the right end, where the words of the axis need their room.
        return new Stretch(first, last + ((last - first) * (futures.Count > 0 ? 0.04 : 0.2)));
    }

    public static CurveWindow Of(BatchView view, CurveScale scale, PictureRequest request)
    {
        var futures = FuturesOf(view);
        var (first, last) = Whole(view);
        var (from, until) = request switch
        {
            { From: { } start, Until: { } end } when end > start => (start, end),
            { Part: CurvePart.Week } => (Later(first, view.Now - TimeSpan.FromDays(5)), view.Now + TimeSpan.FromDays(2)),
            { Part: CurvePart.Tail } when TailStart(view) is { } tail => (tail, Later(last, tail + TimeSpan.FromDays(1))),
            _ => (first, last),
        };

        var whole = request.Part == CurvePart.All && request.From is null;
        // The scale rises with gravity, so only the ends are computed.
        var seen = Ends(view.Gravity.Where(point => whole || (point.At >= from && point.At <= until)).Select(point => point.Gravity)
                .Concat(futures.SelectMany(future => future.Points).Where(point => point.At >= from && point.At <= until).Select(point => point.Gravity)))
            .Select(scale.Value).ToList();
        if (seen.Count == 0)
        {
            seen = [.. Ends(view.Gravity.Select(point => point.Gravity)).Select(scale.Value).DefaultIfEmpty(scale.Kind == CurveKind.Sugar ? 0 : scale.Reader.GravityValue(1))];
        }

        if (request.Part == CurvePart.Tail && request.From is null && scale.Kind == CurveKind.Sugar && from > first)
        {
            return new CurveWindow(from, until, 0, TailSugar * 1.1, 10);
        }

        // Never so close that the error of the readings fills the picture.
        var least = scale.Kind == CurveKind.Sugar ? TailSugar : scale.Reader.GravitySign.Length == 0 ? TailGravity : LeastDegrees;
        var high = Math.Max(seen.Max(), seen.Min() + least);
        var fromZero = scale.Kind == CurveKind.Sugar && (whole || request.Part == CurvePart.Tail || seen.Min() < high / 3);
        var low = fromZero ? 0 : seen.Min();
        var step = Axis.NiceStep(high - low, 5);
        low = fromZero ? 0 : Math.Floor(low / step) * step;
        return new CurveWindow(from, until, low, low + ((high - low) * 1.03), step);
    }

    /// <summary>The least and the greatest; empty for none.</summary>
    private static IReadOnlyList<SpecificGravity> Ends(IEnumerable<SpecificGravity> all)
    {
        SpecificGravity? least = null, most = null;
        foreach (var one in all)
        {
            least = least is { } low && low.Value <= one.Value ? low : one;
            most = most is { } high && high.Value >= one.Value ? high : one;
        }

        return least is { } lowest && most is { } highest ? [lowest, highest] : [];
    }

    private static EventTime Later(EventTime one, EventTime other) => one > other ? one : other;
}
