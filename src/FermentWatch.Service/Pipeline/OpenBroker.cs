using FermentWatch.Infrastructure.Mqtt;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Configuration;

namespace FermentWatch.Service.Pipeline;

/// <summary>One of the two ways to messages while it is open: the broker inside the service, or the connection to one elsewhere.</summary>
internal sealed class OpenBroker : IAsyncDisposable
{
    private readonly CancellationTokenSource _stop = new();
    private Task _running = Task.CompletedTask;

    private OpenBroker(BrokerSettings settings) => Settings = settings;

    public BrokerSettings Settings { get; }

    public EmbeddedBroker? Embedded { get; private init; }

    public ExternalBrokerClient? External { get; private init; }

    /// <summary>How to reach the external broker a second time, beside the session that is kept; null in embedded mode.</summary>
    public ExternalBrokerOptions? Beside { get; private init; }

    public bool IsUp => External is { } client ? client.Status.State == BrokerConnectionState.Connected : Embedded?.Status.Listening is not null;

    public ReceivedAt? LastMessageAt => External is { } client ? client.Status.LastMessageAt : Embedded?.Status.LastMessageAt;

    public Reason State => BrokerWords.Of(Settings, Embedded?.Status, External?.Status);

    /// <exception cref="BrokerStartException">The port cannot be used.</exception>
    public static async Task<OpenBroker> ListenAsync(BrokerSettings settings, EmbeddedBroker broker, CancellationToken cancellationToken)
    {
        try
        {
            await broker.StartAsync(cancellationToken);
            return new OpenBroker(settings) { Embedded = broker };
        }
        catch
        {
            await broker.DisposeAsync();
            throw;
        }
    }

    /// <summary>Begins to connect, and goes on by itself.</summary>
    public static OpenBroker Connect(BrokerSettings settings, ExternalBrokerOptions options, Func<ExternalBrokerOptions, ExternalBrokerClient> client)
    {
        var open = new OpenBroker(settings)
        {
            External = client(options),
            Beside = options with { ClientId = options.ClientId + "-listen", CleanSession = true },
        };
        open._running = open.External.RunAsync(open._stop.Token);
        return open;
    }

    /// <summary>Acknowledges what is on disk and says goodbye.</summary>
    public async Task StopAsync(CancellationToken cancellationToken)
    {
        await _stop.CancelAsync();
        await _running.WaitAsync(cancellationToken).ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
        if (Embedded is { } broker)
        {
            await broker.StopAsync();
        }
    }

    public async ValueTask DisposeAsync()
    {
        if (Embedded is { } broker)
        {
            await broker.DisposeAsync();
        }

        _stop.Dispose();
    }
}
