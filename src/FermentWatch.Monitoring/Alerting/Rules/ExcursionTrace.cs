using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting.Rules;

/// <summary>Sums up one stretch outside a band while samples pass by, and writes its episode.</summary>
internal sealed class ExcursionTrace(SensorAttachment attachment, TemperatureBand band)
{
    private EventTime _beganAt;
    private EventTime _raisedAt;
    private (EventTime At, double Celsius)? _latest;
    private double _peak;
    private double _farthest;
    private TimeSpan _outside;
    private double _degreeHours;

    /// <summary>A new stretch begins with the next value.</summary>
    public void Begin()
    {
        _latest = null;
        _farthest = double.NegativeInfinity;
        _outside = TimeSpan.Zero;
        _degreeHours = 0;
    }

    /// <summary>The time until the next value is covered by no sample.</summary>
    public void Break() => _latest = null;

    public void Add(EventTime at, double celsius)
    {
        if (_latest is { } last)
        {
            // The mean of both ends: a straight line between two samples, cut off at the limit.
            var hours = (at - last.At).TotalHours;
            _degreeHours += hours * (Math.Max(0, Distance(last.Celsius)) + Math.Max(0, Distance(celsius))) / 2;
            _outside += Distance(celsius) > 0 ? at - last.At : TimeSpan.Zero;
        }

        if (Distance(celsius) > _farthest)
        {
            _farthest = Distance(celsius);
            _peak = celsius;
        }

        _latest = (at, celsius);
    }

    public void Raise(EventTime beganAt, EventTime raisedAt)
    {
        _beganAt = beganAt;
        _raisedAt = raisedAt;
    }

    public AlertEpisode Lasting(bool isEasing) => Episode(clearedAt: null, clearedBecause: null) with { IsEasing = isEasing };

    public AlertEpisode Clear(EventTime at) => Episode(at, Reason.Of(
        "temperature-back-in-band",
        new ReasonValue.Name(attachment.Sensor.Value),
        new ReasonValue.Degrees(_latest!.Value.Celsius),
        new ReasonValue.Moment(at),
        new ReasonValue.Length(_outside),
        new ReasonValue.Degrees(_peak)));

    public AlertEpisode Detach(EventTime at) =>
        Episode(at, Reason.Of("sensor-detached", new ReasonValue.Name(attachment.Sensor.Value), new ReasonValue.Moment(at)));

    private AlertEpisode Episode(EventTime? clearedAt, Reason? clearedBecause)
    {
        var (at, celsius) = _latest!.Value;
        var isAbove = _peak > band.High.Celsius;
        var limit = isAbove ? band.High.Celsius : band.Low.Celsius;
        var because = Reason.Of(
            isAbove ? "temperature-above-band" : "temperature-below-band",
            new ReasonValue.Name(attachment.Sensor.Value),
            new ReasonValue.Degrees(celsius),
            new ReasonValue.Degrees(limit),
            new ReasonValue.Moment(_beganAt),
            new ReasonValue.Degrees(_peak));
        return new AlertEpisode(
            TemperatureBandRule.Id, attachment.Sensor.Value, Severity.Warning, _beganAt, _raisedAt, clearedAt, because)
        {
            ClearedBecause = clearedBecause,
            EvidenceAt = at,
            Placement = attachment.Placement,
            Excursion = new Excursion(celsius, limit, _peak, _outside, _degreeHours),
        };
    }

    private double Distance(double celsius) => Math.Max(band.Low.Celsius - celsius, celsius - band.High.Celsius);
}
