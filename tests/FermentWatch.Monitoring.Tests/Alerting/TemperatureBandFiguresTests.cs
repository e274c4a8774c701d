using System.Globalization;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Alerting.Rules;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Alerting;

/// <summary>Recall, delay and false alerts over seeded weeks with noise, lost samples and wild values.</summary>
public sealed class TemperatureBandFiguresTests
{
    private const int Weeks = 300;

    private static readonly TemperatureBand Band = new(Temperature.FromCelsius(18), Temperature.FromCelsius(25));
    private static readonly SensorAttachment Probe = new(new SensorId("probe"), new EventTime(0), Until: null, Placement.InLiquid);

    [Fact]
    public void InjectedExcursions_AreFoundSoonAndQuietWeeksStayQuiet()
    {
        var (found, quietAlerts, extra, delays) = (0, 0, 0, new List<double>());
        for (var seed = 0; seed < Weeks; seed++)
        {
            var random = new Random(seed);
            var interval = TimeSpan.FromMinutes(random.Next(5, 61));
            var begin = TimeSpan.FromHours(24 + (100 * random.NextDouble()));
            var length = AlertSettings.Default.TemperatureBand.OnDelayInLiquid + (interval * 4) + TimeSpan.FromHours(10 * random.NextDouble());
            var height = 0.6 + (5 * random.NextDouble());

            quietAlerts += Episodes(Week(random, interval, at => 0)).Count;
            var episodes = Episodes(Week(random, interval, at => at >= begin && at < begin + length ? height : 0));
            var hit = episodes.FirstOrDefault(episode => Since(episode.RaisedAt) >= begin && Since(episode.BeganAt) <= begin + length);
            extra += episodes.Count - (hit is null ? 0 : 1);
            if (hit is not null)
            {
                found++;
                delays.Add((Since(hit.RaisedAt) - begin - AlertSettings.Default.TemperatureBand.OnDelayInLiquid) / interval);
            }
        }

        delays.Sort();
        var (median, high) = (delays[delays.Count / 2], delays[(int)(delays.Count * 0.95)]);
        TestContext.Current.TestOutputHelper?.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"recall {found}/{Weeks}, alerts in {Weeks} quiet weeks {quietAlerts}, extra {extra}, delay median {median:0.00} dt, P95 {high:0.00} dt"));

        Assert.InRange(found, (int)Math.Ceiling(0.99 * Weeks), Weeks);
        Assert.InRange((double)found / (found + extra + quietAlerts), 0.9, 1);
        Assert.InRange(median, 0, 2);
        Assert.InRange(high, 0, 2);
    }

    /// <summary>At 24.8 °C at most when nothing is injected, in steps of 0.1; one sample in 20 is lost, one in 50 is a wild value.</summary>
    private static List<Reading> Week(Random random, TimeSpan interval, Func<TimeSpan, double> injected)
    {
        var readings = new List<Reading>();
        for (var at = TimeSpan.Zero; at < TimeSpan.FromDays(7); at += interval)
        {
            var celsius = Math.Round(24.4 + (0.2 * Math.Sin(at.TotalDays * 2 * Math.PI)) + (0.2 * random.NextDouble()) + injected(at), 1);
            if (random.Next(20) > 0)
            {
                var value = random.Next(50) == 0 ? random.Next(2) == 0 ? 85 : -10 : celsius;
                var time = new EventTime(0) + at;
                readings.Add(new Reading(time, readings.Count, DeviceTime: null, new ReceivedAt(time.UnixMicroseconds), value, value, ClockTrusted: true));
            }
        }

        return readings;
    }

    private static TimeSpan Since(EventTime at) => at - new EventTime(0);

    private static ValueList<AlertEpisode> Episodes(IReadOnlyList<Reading> readings) => SampleRules.Episodes(
        new SampleFacts(
            BatchViews.Batch("quince-mead", "Quince mead", Band, [Probe]),
            [new SeriesReadings(new SeriesKey(Probe.Sensor, QuantityKind.Temperature), readings)],
            new EventTime(long.MaxValue)),
        AlertSettings.Default with { Only = ValueList.Of<string>(TemperatureBandRule.Id) });
}
