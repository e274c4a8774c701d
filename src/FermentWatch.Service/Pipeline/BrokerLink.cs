using FermentWatch.Infrastructure.Mqtt;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Access;
using FermentWatch.Service.Configuration;

namespace FermentWatch.Service.Pipeline;

/// <summary>The way by which messages reach us: the broker inside the service, or a client of one that runs elsewhere.</summary>
public sealed class BrokerLink : IHostedService, IAsyncDisposable
{
    private const string ClientIdProperty = "broker-client-id";

    private readonly BrokerSettings _settings;
    private readonly Store _store;
    private readonly AccessBook _access;
    private readonly MappingBook _book;
    private readonly TopicInterest _interest;
    private readonly PipelineSignals _signals;
    private readonly TimeProvider _clock;
    private readonly ILogger<BrokerLink> _logger;
    private readonly CancellationTokenSource _stop = new();
    private EmbeddedBroker? _embedded;
    private ExternalBrokerClient? _external;
    private Task _running = Task.CompletedTask;

    /// <summary>Prepares the link; the host starts it last and stops it first.</summary>
    public BrokerLink(
        BrokerSettings settings, MappingBook book, MessageReading reading, Store store, AccessBook access, PipelineSignals signals, TimeProvider clock, ILogger<BrokerLink> logger)
    {
        _settings = settings;
        _store = store;
        _access = access;
        _book = book;
        _interest = new TopicInterest(FiltersOf(book), reading.Wants);
        book.Changed += () => _interest.Replace(FiltersOf(book));
        _signals = signals;
        _clock = clock;
        _logger = logger;
    }

    /// <summary>Whether messages can reach us now.</summary>
    public bool IsUp => _external is { } client ? client.Status.State == BrokerConnectionState.Connected : _embedded?.Status.Listening is not null;

    /// <summary>How the link is, in words for the page.</summary>
    public Reason State => BrokerWords.Of(_settings, _embedded?.Status, _external?.Status);

    /// <summary>When the newest message was recorded in this run; null before the first.</summary>
    public ReceivedAt? LastMessageAt => _external is { } client ? client.Status.LastMessageAt : _embedded?.Status.LastMessageAt;

    /// <summary>Topics that nobody mapped and that reach us without asking for them: all of them at the embedded broker.</summary>
    public UnmappedTopics? Unmapped => _embedded?.Unmapped;

    /// <summary>How to reach the external broker a second time, beside the session that is kept; null in embedded mode.</summary>
    public ExternalBrokerOptions? Beside { get; private set; }

    /// <summary>Opens the embedded broker's port, or begins to connect.</summary>
    /// <exception cref="BrokerStartException">The port cannot be used.</exception>
    public async Task StartAsync(CancellationToken cancellationToken)
    {
        await _book.ResumeAsync(cancellationToken);
        if (_settings.External is { } external)
        {
            var clientId = external.ClientId
                ?? await _store.KeepPropertyAsync(ClientIdProperty, "fermentwatch-" + Guid.NewGuid().ToString("N")[..10], cancellationToken);
            Beside = Options(external, clientId + "-listen") with { CleanSession = true };
            _external = new ExternalBrokerClient(Options(external, clientId), _interest, RecordAsync, _store.ConfirmAcknowledgedAsync, _clock, _logger);
            _running = _external.RunAsync(_stop.Token);
            return;
        }

        var options = new EmbeddedBrokerOptions { Address = _settings.Embedded.Address, Port = _settings.Embedded.Port, Admission = _access.Admission };
        _embedded = new EmbeddedBroker(options, _interest, RecordAsync, _store.ConfirmAcknowledgedAsync, _clock, _logger);
        await _embedded.StartAsync(cancellationToken);
    }

    /// <summary>Acknowledges what is on disk and says goodbye.</summary>
    public async Task StopAsync(CancellationToken cancellationToken)
    {
        await _stop.CancelAsync();
        await _running.WaitAsync(cancellationToken).ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
        if (_embedded is { } broker)
        {
            await broker.StopAsync();
        }
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        if (_embedded is { } broker)
        {
            await broker.DisposeAsync();
        }

        _stop.Dispose();
    }

    private static IEnumerable<string> FiltersOf(MappingBook book) => book.Active.Select(mapping => mapping.Filter.Text);

    private async ValueTask<InboxReceipt> RecordAsync(InboundMessage message, CancellationToken cancellationToken)
    {
        var receipt = await _store.RecordAsync(message, cancellationToken);
        _signals.Inbox.Set();
        return receipt;
    }

    private static ExternalBrokerOptions Options(ExternalBrokerSettings settings, string clientId) => new()
    {
        Host = settings.Host,
        Port = settings.Port,
        ClientId = clientId,
        UserName = settings.User,
        Password = settings.Password,
        UseTls = settings.UseTls,
        AuthorityFile = settings.AuthorityFile,
    };
}
