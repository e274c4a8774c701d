using System.Globalization;

namespace FermentWatch.System.Tests.Mqtt.Killing;

internal enum DeviceManner
{
    /// <summary>Bare numbers without a time, each larger than the one before.</summary>
    BareRising,

    /// <summary>Bare numbers without a time, always the same one.</summary>
    BareRepeating,

    /// <summary>JSON with the device's own time.</summary>
    Timed,
}

/// <summary>A device under load: up to eight messages unacknowledged, reconnecting by itself.</summary>
internal sealed class LoadDevice(string name, int version, DeviceManner manner, int port, int seed) : IAsyncDisposable
{
    private const int MostOpen = 8;

    private readonly RawPublisher _publisher = new(name, version, port);
    private readonly Random _random = new(seed);
    private long _time = DateTimeOffset.UtcNow.ToUnixTimeMilliseconds();
    private int _count;

    public string Name { get; } = name;

    public DeviceManner Manner { get; } = manner;

    public RawPublisher Publisher => _publisher;

    /// <summary>Values that the broker acknowledged, as they were sent.</summary>
    public IEnumerable<string> Acknowledged => _publisher.Acknowledged.Select(message => ValueIn(message.Payload));

    /// <summary>Values that were sent, acknowledged or not.</summary>
    public IEnumerable<string> Sent => _publisher.Sent.Select(message => ValueIn(message.Payload));

    /// <summary>Sends until told to stop, then waits until everything is acknowledged.</summary>
    public async Task RunAsync(CancellationToken stopSending, CancellationToken giveUp)
    {
        while (!giveUp.IsCancellationRequested)
        {
            if (!_publisher.Connected)
            {
                if (!await _publisher.TryConnectAsync())
                {
                    await Task.Delay(20, CancellationToken.None);
                }
            }
            else if (stopSending.IsCancellationRequested && _publisher.OpenCount == 0)
            {
                return;
            }
            else if (stopSending.IsCancellationRequested || _publisher.OpenCount >= MostOpen)
            {
                await Task.Delay(1, CancellationToken.None);
            }
            else
            {
                await SendAsync();
                await Task.Delay(_random.Next(1, 6), CancellationToken.None);
            }
        }
    }

    public ValueTask DisposeAsync() => _publisher.DisposeAsync();

    private Task SendAsync()
    {
        var value = Manner == DeviceManner.BareRepeating ? "1.050000" : string.Create(CultureInfo.InvariantCulture, $"1.{++_count:D6}");
        if (Manner != DeviceManner.Timed)
        {
            return _publisher.PublishAsync($"cellar/{Name}/sg", value);
        }

        _time = Math.Max(_time + 1, DateTimeOffset.UtcNow.ToUnixTimeMilliseconds());
        return _publisher.PublishAsync($"cellar/{Name}/state", string.Create(CultureInfo.InvariantCulture, $$"""{"at":{{_time}},"sg":{{value}}}"""));
    }

    private static string ValueIn(string payload) => payload.StartsWith('{') ? payload[(payload.IndexOf("sg\":", StringComparison.Ordinal) + 4)..^1] : payload;
}
