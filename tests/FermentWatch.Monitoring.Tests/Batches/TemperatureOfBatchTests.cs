using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Batches;

public sealed class TemperatureOfBatchTests
{
    private static readonly SensorId Room = new("room-1");

    [Fact]
    public void RoomSensor_CountsOnlyWhereThereIsNoOther()
    {
        var alone = View(withLiquid: false);
        Assert.Equal(14, alone.LatestTemperature!.Value.Value.Celsius);
        Assert.NotEmpty(alone.Temperature);

        var both = View(withLiquid: true);
        Assert.All(both.Temperature, point => Assert.Equal(22, point.Temperature.Celsius, 0.51));
        Assert.InRange(both.LatestTemperature!.Value.Value.Celsius, 21.5, 22.5);
    }

    [Fact]
    public void Bins_CarryLowestAndHighest()
    {
        var bin = View(withLiquid: true).Temperature[5];
        Assert.True(bin.Lowest < bin.Temperature);
        Assert.True(bin.Highest > bin.Temperature);
    }

    private static BatchView View(bool withLiquid)
    {
        var batch = SimulatedBatch.Batch() with
        {
            Sensors = ValueList.Of(
                new SensorAttachment(SimulatedBatch.Sensor, SimulatedBatch.Start, null, Placement.InLiquid),
                new SensorAttachment(Room, SimulatedBatch.Start, null, Placement.Room)),
        };
        var series = new List<SeriesReadings> { Of(Room, _ => 14) };
        if (withLiquid)
        {
            series.Add(Of(SimulatedBatch.Sensor, i => i % 2 == 0 ? 21.5 : 22.5));
        }

        var facts = new BatchFacts(batch, [], series);
        return BatchAnalysis.View(facts, ViewSettings.Default, PriorSnapshot.Shipped, SimulatedBatch.At(20));
    }

    private static SeriesReadings Of(SensorId sensor, Func<int, double> celsius)
    {
        var readings = new List<Reading>();
        for (var i = 0; i < 200; i++)
        {
            var at = SimulatedBatch.At(i / 12.0);
            readings.Add(new Reading(at, i, null, new ReceivedAt(at.UnixMicroseconds), celsius(i), celsius(i), true));
        }

        return new SeriesReadings(new SeriesKey(sensor, QuantityKind.Temperature), readings);
    }
}
