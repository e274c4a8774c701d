using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Service.Dashboard.Pictures;

/// <summary>A linear scale from values to places.</summary>
internal readonly record struct Axis(double FromValue, double ToValue, double FromPlace, double ToPlace)
{
    public double At(double value) =>
        ToValue == FromValue ? FromPlace : FromPlace + ((value - FromValue) / (ToValue - FromValue) * (ToPlace - FromPlace));

    /// <summary>The step of 1, 2 or 5 times a power of ten that gives at most <paramref name="most"/> lines over a span.</summary>
    public static double NiceStep(double span, int most)
    {
        var rough = Math.Max(span, 1e-9) / most;
        var power = Math.Pow(10, Math.Floor(Math.Log10(rough)));
        foreach (var factor in (double[])[1, 2, 5])
        {
            if (factor * power >= rough * (1 - 1e-9))
            {
                return factor * power;
            }
        }

        return 10 * power;
    }

    /// <summary>Multiples of a step strictly between two values.</summary>
    public static IEnumerable<double> Steps(double low, double high, double step)
    {
        for (var n = Math.Floor(low / step) + 1; n * step < high - (step * 1e-6); n++)
        {
            if (n * step > low + (step * 1e-6))
            {
                yield return n * step;
            }
        }
    }
}

/// <summary>A linear scale from instants to places.</summary>
internal readonly record struct TimeAxis(EventTime From, EventTime Until, double FromPlace, double ToPlace)
{
    public double At(EventTime time) =>
        new Axis(0, Math.Max(1, (Until - From).TotalSeconds), FromPlace, ToPlace).At((time - From).TotalSeconds);

    public bool Shows(EventTime time) => time >= From && time <= Until;
}
