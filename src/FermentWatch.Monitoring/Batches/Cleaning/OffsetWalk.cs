using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Batches.Cleaning;

/// <summary>How far a sensor stands from the truth, as a random walk that is seen now and then.</summary>
/// <remarks>Method, figures and source: <see cref="HandAnchor"/>.</remarks>
/// <param name="disturbedAt">When something moved the sensor, in time order: the walk may jump there.</param>
internal sealed class OffsetWalk(IReadOnlyList<EventTime> disturbedAt)
{
    private const double OffsetVariance = 36;
    private const double WanderVariancePerDay = 0.15;
    private const double DisturbedVariance = 16;

    private readonly List<EventTime> _times = [];
    private readonly List<double> _means = [];
    private readonly List<double> _variances = [];
    private readonly List<double> _ahead = [];

    /// <summary>The offset as far as it is known now. [points]</summary>
    public double Mean => _means.Count == 0 ? 0 : _means[^1];

    /// <summary>Takes in what was seen; times must rise.</summary>
    public void See(EventTime at, double offset, double variance)
    {
        var ahead = _times.Count == 0 ? OffsetVariance : _variances[^1] + Wander(_times[^1], at);
        var gain = ahead / (ahead + variance);
        _means.Add(Mean + (gain * (offset - Mean)));
        _variances.Add(ahead * (1 - gain));
        _ahead.Add(ahead);
        _times.Add(at);
    }

    /// <summary>Lets what was seen later tell of the time before.</summary>
    public void Smooth()
    {
        for (var i = _means.Count - 2; i >= 0; i--)
        {
            _means[i] += _variances[i] / _ahead[i + 1] * (_means[i + 1] - _means[i]);
        }
    }

    /// <summary>The offset at a time: straight between two that were seen, constant before the first and after the last. [points]</summary>
    public double At(EventTime at)
    {
        var after = _times.FindIndex(one => one >= at);
        if (after <= 0)
        {
            return after == 0 ? _means[0] : Mean;
        }

        // Where something moved the sensor in between, the offset did not wander but jump.
        var (from, until) = (_times[after - 1], _times[after]);
        foreach (var jump in disturbedAt)
        {
            if (jump > from && jump <= until)
            {
                return at < jump ? _means[after - 1] : _means[after];
            }
        }

        var part = (at - from).TotalHours / Math.Max((until - from).TotalHours, 1e-6);
        return _means[after - 1] + (part * (_means[after] - _means[after - 1]));
    }

    private double Wander(EventTime from, EventTime until) =>
        (WanderVariancePerDay * Math.Max((until - from).TotalDays, 0)) + (disturbedAt.Any(at => at > from && at <= until) ? DisturbedVariance : 0);
}
