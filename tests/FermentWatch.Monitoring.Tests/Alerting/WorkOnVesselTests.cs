using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Alerting;

/// <summary>While somebody works on a vessel its alerts wait. A day of readings every ten minutes, with the sensor out of the vessel from 10:00 on.</summary>
public sealed class WorkOnVesselTests
{
    private static readonly DateTimeOffset Start = new(2026, 3, 2, 8, 0, 0, TimeSpan.Zero);
    private static readonly AlertSettings Settings = AlertSettings.Default with { Channels = ValueList.Of<string>("relay"), QuietHours = null };

    [Theory]
    [InlineData(false, true)]
    [InlineData(true, false)]
    public void WarmWhileTheSensorLiesOnTheTable_IsNoAlertDuringWork(bool isWorking, bool isTold)
    {
        var told = Told(At(8), hour => hour is >= 2 and < 4 ? 26 : 20, hour => true, isWorking ? [new WorkSpan(At(2), At(5))] : []);
        Assert.Equal(isTold, told.Any(transition => transition.Alert.Rule == "temperature-band"));
    }

    [Fact]
    public void WarmLongAfterTheWork_IsAnAlert()
    {
        var told = Told(At(9), hour => hour >= 2 ? 26 : 20, hour => true, [new WorkSpan(At(2), At(5))]);
        var raised = Assert.Single(told, transition => transition.Kind == TransitionKind.Raised);
        Assert.True(raised.Alert.RaisedAt.ToDateTimeOffset() >= Start.AddHours(5), $"{raised.Alert.RaisedAt}");
    }

    [Theory]
    [InlineData(false, true)]
    [InlineData(true, false)]
    public void SensorSilentWhileSomebodyWorks_IsNoAlert(bool isWorking, bool isTold)
    {
        var told = Told(At(8), _ => 20, hour => hour is < 2 or > 4.5, isWorking ? [new WorkSpan(At(2), At(5))] : []);
        Assert.Equal(isTold, told.Any(transition => transition.Alert.Rule == "sensor-silent"));
    }

    [Fact]
    public void WorkIsOverAndTheSensorStaysSilent_IsAnAlertAfterItsUsualTime()
    {
        var told = Told(At(8), _ => 20, hour => hour < 2, [new WorkSpan(At(2), At(5))]);
        var raised = Assert.Single(told, transition => transition.Kind == TransitionKind.Raised);
        Assert.Equal("sensor-silent", raised.Alert.Rule);
    }

    private static List<AlertTransition> Told(EventTime end, Func<double, double> celsius, Func<double, bool> isHeard, WorkSpan[] work)
    {
        var batch = new Batch(
            new BatchId("sloe"), "Sloe wine", FermentKind.Wine, null, null, At(0), null,
            new TemperatureBand(Temperature.FromCelsius(18), Temperature.FromCelsius(22)), null,
            ValueList.Of(new SensorAttachment(new SensorId("float"), At(0), null, Placement.InLiquid)));
        var all = Enumerable.Range(0, 100).Select(i => i / 6.0).Where(isHeard)
            .Select((hour, i) => new Reading(At(hour), i, At(hour), new ReceivedAt(At(hour).UnixMicroseconds), celsius(hour), celsius(hour), true)).ToList();
        var told = new List<AlertTransition>();
        var set = AlertSet.Empty;
        for (var now = At(0); now <= end; now += TimeSpan.FromMinutes(5))
        {
            var series = new SeriesReadings(new SeriesKey(new SensorId("float"), QuantityKind.Temperature), [.. all.Where(reading => reading.At <= now)]);
            // Only work that was begun by then is known.
            var facts = new BatchFacts(batch, [], [series]) { Work = [.. work.Where(span => span.From <= now)] };
            var view = BatchAnalysis.View(facts, ViewSettings.Default with { Alerts = Settings }, PriorSnapshot.Shipped, now);
            var result = Assert.Single(Alerts.StepAll([(set, view)], Settings, new Pass(new ReceivedAt(now.UnixMicroseconds), TimeSpan.FromMinutes(5), TimeZoneInfo.Utc)));
            told.AddRange(result.Transitions);
            set = result.Now;
        }

        return told;
    }

    private static EventTime At(double hours) => EventTime.From(Start.AddHours(hours));
}
