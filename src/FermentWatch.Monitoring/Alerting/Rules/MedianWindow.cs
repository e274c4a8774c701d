using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting.Rules;

/// <summary>The median of the last three temperatures; of fewer, the one nearest to the band.</summary>
internal sealed class MedianWindow(TemperatureBand band)
{
    private readonly Queue<double> _last = new(3);

    /// <summary>When the newest unbroken run of values outside the band began; null when the newest value is inside.</summary>
    public EventTime? OutsideSince { get; private set; }

    /// <summary>How many values that run has, the newest one included.</summary>
    public int OutsideCount { get; private set; }

    public void Clear()
    {
        _last.Clear();
        (OutsideSince, OutsideCount) = (null, 0);
    }

    /// <summary>Takes one more value and gives the one that counts. [°C]</summary>
    public double Add(EventTime at, double celsius)
    {
        var isOutside = Outside(celsius) > 0;
        OutsideSince = isOutside ? OutsideSince ?? at : null;
        OutsideCount = isOutside ? OutsideCount + 1 : 0;
        if (_last.Count == 3)
        {
            _last.Dequeue();
        }

        _last.Enqueue(celsius);
        return _last.Count == 3 ? _last.Order().ElementAt(1) : _last.MinBy(Outside);
    }

    // Below zero inside the band.
    private double Outside(double celsius) => Math.Max(band.Low.Celsius - celsius, celsius - band.High.Celsius);
}
