using System.Text;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Telemetry;
using Microsoft.Data.Sqlite;
using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Time.Testing;
using Xunit;
using DecodedMessage = FermentWatch.Infrastructure.Storage.DecodedMessage;

namespace FermentWatch.System.Tests.Storage;

/// <summary>A real store in a temporary directory of its own.</summary>
internal sealed class StoreOnDisk : IAsyncDisposable
{
    public static readonly DateTimeOffset Start = new(2026, 3, 1, 8, 0, 0, TimeSpan.Zero);

    private StoreOnDisk(StoreOptions options)
    {
        Options = options;
        Store = Infrastructure.Storage.Store.Open(options, Clock, NullLogger<Store>.Instance);
    }

    public StoreOptions Options { get; }

    public FakeTimeProvider Clock { get; } = new(Start);

    public Store Store { get; private set; }

    public static CancellationToken Stop => TestContext.Current.CancellationToken;

    public static string NewDirectory() => Path.Combine(Path.GetTempPath(), "fermentwatch-store-" + Guid.NewGuid().ToString("N"));

    public static StoreOnDisk Open(Func<StoreOptions, StoreOptions>? with = null)
    {
        var options = new StoreOptions(NewDirectory());
        return new StoreOnDisk(with is null ? options : with(options));
    }

    public static EventTime At(double hours) => EventTime.From(Start.AddHours(hours));

    public static ReceivedAt Arrival(double hours) => ReceivedAt.From(Start.AddHours(hours));

    /// <summary>A message as the device 'd1' sends it at quality of service 1.</summary>
    public static InboundMessage Message(
        string payload,
        ushort packetId,
        bool duplicate = false,
        string session = "embedded/d1",
        string topic = "cellar/d1/gravity",
        bool lastKnown = false,
        double hours = 0)
    {
        var bytes = Encoding.UTF8.GetBytes(payload);
        return new InboundMessage(topic, bytes, bytes.Length, Arrival(hours), session, packetId, duplicate, lastKnown);
    }

    public async Task<InboxReceipt> RecordAsync(InboundMessage message) => await Store.RecordAsync(message, Stop);

    /// <summary>Records a message and decodes it as readings of gravity of the sensor 'tilted'.</summary>
    public async Task<DecodeReport> ReadingAsync(double value, EventTime? deviceTime, double arrivalHours)
    {
        var receipt = await RecordAsync(Message("x", packetId: 0, hours: arrivalHours));
        return await Store.CommitDecodedAsync([new DecodedMessage(receipt.Sequence, [Gravity(value, deviceTime)], [])], receipt.Sequence, Stop);
    }

    public static SeriesKey GravitySeries { get; } = new(new SensorId("leaning float"), QuantityKind.Gravity);

    public static DecodedField Gravity(double value, EventTime? deviceTime) =>
        new(GravitySeries.Sensor, QuantityKind.Gravity, MeasurementUnit.SpecificGravity, value, value, deviceTime);

    public IReadOnlyList<Reading> Readings(bool withSuperseded = false) =>
        Store.ReadReadings(GravitySeries, new EventTime(long.MinValue / 2), new EventTime(long.MaxValue / 2), withSuperseded);

    /// <summary>Stops the store and opens the same directory again, as a restart does.</summary>
    public async Task RestartAsync()
    {
        await Store.DisposeAsync();
        Store = Infrastructure.Storage.Store.Open(Options, Clock, NullLogger<Store>.Instance);
    }

    /// <summary>A number read with a connection of the test's own.</summary>
    public long Number(string sql)
    {
        using var connection = new SqliteConnection($"Data Source={Options.DatabasePath};Pooling=False");
        connection.Open();
        using var command = connection.CreateCommand();
        command.CommandText = sql;
        return Convert.ToInt64(command.ExecuteScalar(), global::System.Globalization.CultureInfo.InvariantCulture);
    }

    public async ValueTask DisposeAsync()
    {
        await Store.DisposeAsync();
        Directory.Delete(Options.DataDirectory, recursive: true);
    }
}
