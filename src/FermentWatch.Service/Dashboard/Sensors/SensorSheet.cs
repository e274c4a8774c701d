using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Monitoring.Telemetry.Calibration;
using FermentWatch.Service.Dashboard.Words;

namespace FermentWatch.Service.Dashboard.Sensors;

/// <summary>All that the page of a sensor shows.</summary>
/// <param name="Sensor">The sensor.</param>
/// <param name="Series">How each of its series is heard.</param>
/// <param name="Stays">Where it was and is, by begin.</param>
/// <param name="Batches">Listed batches, to which it may move.</param>
/// <param name="Calibrations">Calibrations, retired ones included.</param>
/// <param name="Pairs">Hand readings beside its own gravity.</param>
/// <param name="Mass">Gravity from mass in its present batch; null when it does not weigh.</param>
public sealed record SensorSheet(
    SensorId Sensor,
    IReadOnlyList<HealthRow> Series,
    IReadOnlyList<SensorStay> Stays,
    IReadOnlyList<Batch> Batches,
    IReadOnlyList<SensorCalibration> Calibrations,
    ValueList<HandPair> Pairs,
    MassGravity? Mass)
{
    /// <summary>The stay that goes on now, or null.</summary>
    public SensorStay? Present => Stays.FirstOrDefault(stay => stay.Attachment.Until is null);

    /// <summary>Whether the sensor ever sent a quantity.</summary>
    public bool Sends(QuantityKind quantity) => Series.Any(row => row.Quantity == quantity);

    /// <summary>Gathers the sheet; null when there is no such sensor.</summary>
    public static SensorSheet? Of(Store store, Visit visit, SensorId sensor)
    {
        ArgumentNullException.ThrowIfNull(store);
        ArgumentNullException.ThrowIfNull(visit);
        var series = store.ReadSeries().Where(one => one.Series.Sensor == sensor).ToList();
        var stays = store.ReadStays(sensor);
        if (series.Count == 0 && stays.Count == 0)
        {
            return null;
        }

        return new SensorSheet(
            sensor,
            [.. series.Select(one => HealthRow.Of(store, visit, one))],
            stays,
            store.ReadBatches(),
            store.ReadCalibrations(sensor),
            PairsOf(store, visit, sensor),
            MassOf(store, sensor, stays));
    }

    /// <summary>Hand readings of every batch in which the sensor was, beside its gravity before any adjustment.</summary>
    public static ValueList<HandPair> PairsOf(Store store, Visit visit, SensorId sensor)
    {
        ArgumentNullException.ThrowIfNull(store);
        ArgumentNullException.ThrowIfNull(visit);
        var now = EventTime.From(visit.Now);
        var pairs = new List<HandPair>();
        foreach (var batch in store.ReadStays(sensor).Select(stay => stay.Batch).Distinct())
        {
            if (store.ReadUnadjusted(batch) is { } facts
                && facts.Series.FirstOrDefault(one => one.Series == new SeriesKey(sensor, QuantityKind.Gravity)) is { } gravity)
            {
                pairs.AddRange(HandComparison.Pairs(gravity.Readings, facts.Journal, now));
            }
        }

        return ValueList.Of<HandPair>(pairs.OrderBy(pair => pair.At));
    }

    private static MassGravity? MassOf(Store store, SensorId sensor, IReadOnlyList<SensorStay> stays)
    {
        if (stays.Count == 0 || store.ReadUnadjusted(stays[^1].Batch) is not { } facts)
        {
            return null;
        }

        var mass = facts.Series.FirstOrDefault(one => one.Series == new SeriesKey(sensor, QuantityKind.VesselMass));
        return mass is null ? null : VesselMassGravity.Of(mass.Readings, facts.Batch, facts.Journal);
    }
}

/// <summary>How one series is heard: labels and values in words.</summary>
/// <param name="Quantity">What it is about.</param>
/// <param name="Facts">Label and value.</param>
public sealed record HealthRow(QuantityKind Quantity, IReadOnlyList<(string Label, string Value)> Facts)
{
    private static readonly TimeSpan Day = TimeSpan.FromHours(24);

    /// <summary>Gathers the row.</summary>
    public static HealthRow Of(Store store, Visit visit, SeriesSummary series)
    {
        ArgumentNullException.ThrowIfNull(store);
        ArgumentNullException.ThrowIfNull(visit);
        ArgumentNullException.ThrowIfNull(series);
        var now = EventTime.From(visit.Now);
        var soon = now + Day;
        var recent = store.ReadReadings(series.Series, now - BatteryTrend.Window, soon);
        var health = SeriesHealth.Of(recent);
        var repaired = store.CountClockRepaired(series.Series);
        var facts = new List<(string, string)>
        {
            (SensorText.Of("label-heard"), series.LastReceivedAt is { } heard ? Reader.Ago(ReceivedAt.From(visit.Now) - heard) : SensorText.Of("never-heard")),
            (SensorText.Of("label-interval"), health.MedianInterval is { } interval ? Figures.Length(interval) : SensorText.Of("interval-unknown")),
            (SensorText.Of("label-readings"), Figures.Count(series.Readings)),
            (SensorText.Of("label-repaired"), SensorText.Of("share-of", Figures.Count(repaired), Figures.Count(series.Readings))),
        };
        if (series.Series.Quantity is QuantityKind.Gravity or QuantityKind.Inclination or QuantityKind.VesselMass
            && visit.Snapshot.Entries.FirstOrDefault(entry => entry.View.Sensors.Any(one => one.Sensor == series.Series.Sensor)) is { } entry)
        {
            var counts = entry.View.GravityCounts;
            facts.Add((SensorText.Of("label-aside"), SensorText.Of("aside-in", Figures.Count(counts.SetAside), Figures.Count(counts.Stored), entry.View.Batch.Name)));
        }

        if (series.Series.Quantity == QuantityKind.Signal)
        {
            var day = SeriesHealth.Of([.. recent.Where(reading => now - reading.At <= Day)]);
            facts.Add((SensorText.Of("label-signal"), day is { Median: { } median, Lowest: { } worst }
                ? SensorText.Of("signal-day", Figures.Whole(median), Figures.Whole(worst))
                : SensorText.Of("signal-none")));
        }

        if (series.Series.Quantity == QuantityKind.Battery && store.ReadUnit(series.Series) is { } unit)
        {
            facts.Add((SensorText.Of("label-battery"), Battery(store, visit, series, recent, unit)));
        }

        return new HealthRow(series.Series.Quantity, facts);
    }

    private static string Battery(Store store, Visit visit, SeriesSummary series, IReadOnlyList<Reading> recent, MeasurementUnit unit)
    {
        var now = EventTime.From(visit.Now);
        var hours = store.ReadRollups(series.Series, RollupWidth.OneHour, now - BatteryTrend.Window, now);
        var trend = BatteryTrend.Of([.. hours.Select(hour => (hour.Start, hour.Mean))], unit, now);
        var level = recent.Count == 0 ? SensorText.Of("battery-unheard") : SensorText.Of("battery-level", Figures.Measured(recent[^1].Value, unit));
        var slope = trend.PerDay is { } perDay ? " " + SensorText.Of("battery-slope", Figures.Measured(Math.Round(-perDay, 4), unit)) : "";
        var left = trend.DaysLeft switch
        {
            null => SensorText.Of("battery-untold", ReasonWords.Of(trend.NotYet!, visit.Reader)),
            > 365 => SensorText.Of("battery-year"),
            var days => SensorText.Of("battery-left", Figures.Length(TimeSpan.FromDays(days.Value))),
        };
        return level + slope + " " + left;
    }
}
