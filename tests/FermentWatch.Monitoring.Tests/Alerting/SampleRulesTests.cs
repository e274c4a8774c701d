using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Alerting.Rules;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;
using FsCheck.Xunit;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Alerting;

public sealed class SampleRulesTests
{
    private static readonly TemperatureBand Band = new(Temperature.FromCelsius(18), Temperature.FromCelsius(25));
    private static readonly SensorAttachment Probe = new(new SensorId("probe"), new EventTime(0), Until: null, Placement.InLiquid);
    private static readonly EventTime Never = new(long.MaxValue);

    [Property(MaxTest = 300)]
    public void ShuffledAndRepeatedReadings_GiveTheSameEpisodes(int seed)
    {
        var random = new Random(seed);
        var readings = Walk(random);
        var scrambled = readings.Concat(readings.Where(_ => random.Next(3) == 0)).ToArray();
        random.Shuffle(scrambled);

        Assert.Equal(Episodes(readings), Episodes(scrambled));
    }

    [Property(MaxTest = 300)]
    public void OvertakenValuesOfTheSameDeviceTime_CountForNothing(int seed)
    {
        var random = new Random(seed);
        var readings = Walk(random).Select(reading => reading with { DeviceTime = reading.At, Sequence = reading.Sequence + 1000 }).ToList();
        var overtaken = readings.Where(_ => random.Next(3) == 0)
            .Select(reading => reading with { Sequence = reading.Sequence - 1000, Value = random.Next(-5, 60) });

        Assert.Equal(Episodes(readings), Episodes([.. overtaken, .. readings]));
    }

    [Property(MaxTest = 300)]
    public void Episodes_AreInOrderAndDoNotOverlap(int seed)
    {
        var episodes = Episodes(Walk(new Random(seed)));

        Assert.All(episodes, episode => Assert.True(episode.BeganAt <= episode.RaisedAt && (episode.ClearedAt is not { } end || end > episode.RaisedAt)));
        Assert.All(episodes.Zip(episodes.Skip(1)), pair => Assert.True(pair.First.ClearedAt <= pair.Second.BeganAt));
    }

    [Fact]
    public void RandomWalks_DoReachTheAlert()
    {
        var found = Enumerable.Range(0, 100).Count(seed => Episodes(Walk(new Random(seed))).Count > 0);

        Assert.InRange(found, 20, 100);
    }

    [Fact]
    public void BareNumbersOfTheSameInstant_AreEachASample()
    {
        // Two instants 40 minutes apart, two samples each: four samples and 40 minutes.
        var readings = Series(bare: true, (0, 27), (0, 27), (40, 27), (40, 27));

        Assert.Single(Episodes(readings));
    }

    [Fact]
    public void Excursion_IsCountedInDegreesTimesHours()
    {
        // Worked by hand: 27 °C for 4 h from the first sample is 2 °C above 25 °C, 8 °C h. The peak of 29 °C lasts for two samples:
        // the median of three shows it once, at minute 300: 1 h from 27 to 29 and 1 h back, 3 °C h each. Then 20 °C.
        var readings = Series(
            bare: false,
            [.. Enumerable.Range(0, 5).Select(hour => (hour * 60, 27.0)), (290, 29.0), (300, 29.0), (360, 27.0), (420, 27.0), (480, 20.0), (540, 20.0), (600, 20.0), (660, 20.0)]);

        var episode = Assert.Single(Episodes(readings));

        Assert.NotNull(episode.Excursion);
        Assert.Equal(29, episode.Excursion.PeakCelsius);
        Assert.Equal(25, episode.Excursion.LimitCelsius);
        Assert.Equal(TimeSpan.FromHours(8), episode.Excursion.Outside);

        // Medians at 0-240: 27; 290: 27; 300: 29; 360: 29; 420: 27; 480: 27; 540: 20. Trapezoids above 25:
        // 0-290: 2 x 29/6; 290-300: 3/6; 300-360: 4; 360-420: 3; 420-480: 2; 480-540: 1.
        Assert.Equal((2 * 290 / 60.0) + 0.5 + 4 + 3 + 2 + 1, episode.Excursion.DegreeHours, 9);
    }

    [Fact]
    public void SamplesAfterNow_DoNotCountYet()
    {
        var readings = Series(bare: false, [.. Enumerable.Range(0, 8).Select(quarter => (quarter * 15, 27.0))]);

        Assert.Empty(Episodes(readings, At(29)));
        Assert.Single(Episodes(readings, At(30)));
    }

    [Fact]
    public void SamplesOutsideTheAttachment_AreNotTheBatchs()
    {
        var attachment = Probe with { From = At(60), Until = At(75) };
        var readings = Series(bare: false, [.. Enumerable.Range(0, 12).Select(quarter => (quarter * 15, 27.0))]);
        var batch = BatchViews.Batch("quince-mead", "Quince mead", Band, [attachment]);

        Assert.Empty(SampleRules.Episodes(new SampleFacts(batch, [new SeriesReadings(new SeriesKey(Probe.Sensor, QuantityKind.Temperature), readings)], Never), AlertSettings.Default));
    }

    private static ValueList<AlertEpisode> Episodes(IReadOnlyList<Reading> readings, EventTime? now = null) => SampleRules.Episodes(
        new SampleFacts(
            BatchViews.Batch("quince-mead", "Quince mead", Band, [Probe]),
            [new SeriesReadings(new SeriesKey(Probe.Sensor, QuantityKind.Temperature), readings)],
            now ?? Never),
        AlertSettings.Default with { Only = ValueList.Of<string>(TemperatureBandRule.Id) });

    private static List<Reading> Walk(Random random)
    {
        var (minute, celsius) = (0, 22.0);
        var points = new List<(int, double)>();
        for (var i = 0; i < 200; i++)
        {
            minute += random.Next(40) == 0 ? random.Next(1, 1500) : random.Next(1, 30);
            celsius = Math.Clamp(celsius + (2 * random.NextDouble()) - 1, 12, 32);
            points.Add((minute, random.Next(30) == 0 ? 85 : Math.Round(celsius, 1)));
        }

        return Series(bare: random.Next(2) == 0, [.. points]);
    }

    private static List<Reading> Series(bool bare, params (int Minute, double Celsius)[] points) =>
    [
        .. points.Select((point, index) => new Reading(
            At(point.Minute), index, bare ? null : At(point.Minute), new ReceivedAt(At(point.Minute).UnixMicroseconds), point.Celsius, point.Celsius, ClockTrusted: true)),
    ];

    private static EventTime At(int minute) => new EventTime(0) + TimeSpan.FromMinutes(minute);
}
