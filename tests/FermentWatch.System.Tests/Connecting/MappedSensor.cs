using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Pipeline;
using FermentWatch.System.Tests.Storage;

namespace FermentWatch.System.Tests.Connecting;

/// <summary>A sensor 'float' that is mapped on the page, over a real store.</summary>
internal sealed class MappedSensor : IAsyncDisposable
{
    public const string Topic = "barn/float";

    private MappedSensor(ValueList<TopicMapping> configured)
    {
        Book = new MappingBook(configured, Disk.Store, Signals);
        Reading = new MessageReading(() => Book.Active);
    }

    public StoreOnDisk Disk { get; } = StoreOnDisk.Open();

    public PipelineSignals Signals { get; } = new();

    public MappingBook Book { get; private set; }

    public MessageReading Reading { get; }

    public long Id => Book.Made.Single().Id;

    public static async Task<MappedSensor> WithAsync(params (string Field, MeasurementUnit Unit)[] fields)
    {
        var sensor = new MappedSensor(ValueList.Of<TopicMapping>());
        foreach (var (field, unit) in fields)
        {
            await sensor.Book.AddAsync("float", TopicFilter.Parse(Topic), new FieldMapping(JsonPointer.Parse(field), UnitConversion.QuantityOf(unit), unit), null, StoreOnDisk.Stop);
        }

        return sensor;
    }

    public static SeriesKey Series(QuantityKind quantity) => new(new SensorId("float"), quantity);

    public static TopicMapping Mapping(string topic, string field, MeasurementUnit unit) =>
        new("float", TopicFilter.Parse(topic), ValueList.Of(new FieldMapping(JsonPointer.Parse(field), UnitConversion.QuantityOf(unit), unit)), null);

    /// <summary>Messages come in and are read.</summary>
    public async Task HearAsync(double hours, string payload, string topic = Topic)
    {
        await Disk.RecordAsync(StoreOnDisk.Message(payload, 0, topic: topic, hours: hours));
        await TakeInAsync();
    }

    public async Task TakeInAsync()
    {
        var waiting = Disk.Store.ReadUndecoded();
        await Disk.Store.CommitDecodedAsync([.. waiting.Messages.Select(Reading.Read)], waiting.UpTo, StoreOnDisk.Stop);
    }

    public IReadOnlyList<Reading> Readings(QuantityKind quantity) =>
        Disk.Store.ReadReadings(Series(quantity), StoreOnDisk.At(-1000), StoreOnDisk.At(1000));

    public async Task RestartAsync()
    {
        await Disk.RestartAsync();
        Book.Dispose();
        Book = new MappingBook(ValueList.Of<TopicMapping>(), Disk.Store, Signals);
    }

    public async ValueTask DisposeAsync()
    {
        Book.Dispose();
        Signals.Dispose();
        await Disk.DisposeAsync();
    }
}
