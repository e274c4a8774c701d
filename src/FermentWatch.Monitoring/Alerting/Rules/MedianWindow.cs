using FermentWatch.Monitoring.Batches;

namespace FermentWatch.Monitoring.Alerting.Rules;

/// <summary>The median of the last three temperatures; of fewer, the one nearest to the band.</summary>
internal sealed class MedianWindow(TemperatureBand band)
{
    private readonly Queue<double> _last = new(3);

    public void Clear() => _last.Clear();

    /// <summary>Takes one more value and gives the one that counts. [°C]</summary>
    public double Add(double celsius)
    {
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
