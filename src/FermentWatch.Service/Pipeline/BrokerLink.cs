using System.Net;
using System.Security.Cryptography;
using System.Text;
using FermentWatch.Infrastructure.Mqtt;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Access;
using FermentWatch.Service.Configuration;

namespace FermentWatch.Service.Pipeline;

/// <summary>The way by which messages reach us: the broker inside the service, or a client of one that runs elsewhere.</summary>
public sealed class BrokerLink : IHostedService, IAsyncDisposable
{
    // A page waits for the answer: long enough for a slow broker, short enough for a reader.
    private static readonly TimeSpan TrialStep = TimeSpan.FromSeconds(5);

    // By which we come in at our own broker: new with each start, known to nobody else.
    private readonly string _ownName = "fermentwatch-notices-" + RandomNumberGenerator.GetHexString(16, lowercase: true);
    private readonly string _ownPassword = RandomNumberGenerator.GetHexString(32);

    private readonly BrokerChoice _choice;
    private readonly Store _store;
    private readonly AccessBook _access;
    private readonly MappingBook _book;
    private readonly TopicInterest _interest;
    private readonly PipelineSignals _signals;
    private readonly TimeProvider _clock;
    private readonly ILogger<BrokerLink> _logger;
    private readonly SemaphoreSlim _switching = new(1, 1);
    private volatile OpenBroker? _open;

    /// <summary>Prepares the link; the host starts it last and stops it first.</summary>
    public BrokerLink(
        BrokerChoice choice, MappingBook book, MessageReading reading, Store store, AccessBook access, PipelineSignals signals, TimeProvider clock, ILogger<BrokerLink> logger)
    {
        _choice = choice;
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
    public bool IsUp => _open?.IsUp ?? false;

    /// <summary>How the link is, in words for the page.</summary>
    public Reason State => _open?.State ?? Reason.Of("broker-starting");

    /// <summary>When the newest message was recorded over this link; null before the first.</summary>
    public ReceivedAt? LastMessageAt => _open?.LastMessageAt;

    /// <summary>Topics that nobody mapped and that reach us without asking for them: all of them at the embedded broker.</summary>
    public UnmappedTopics? Unmapped => _open?.Embedded?.Unmapped;

    /// <summary>How to reach the external broker a second time, beside the session that is kept; null in embedded mode.</summary>
    public ExternalBrokerOptions? Beside => _open?.Beside;

    /// <summary>How to reach the broker of now a second time, to publish notices; null while it is not up.</summary>
    public ExternalBrokerOptions? ForNotices => _open is not { IsUp: true } open ? null
        : open.Beside is { } beside ? beside with { ClientId = beside.ClientId + "-notices" }
        : new ExternalBrokerOptions
        {
            Host = (open.Settings.Embedded.Address is var address && (address.Equals(IPAddress.Any) || address.Equals(IPAddress.IPv6Any)) ? IPAddress.Loopback : address).ToString(),
            Port = open.Settings.Embedded.Port,
            ClientId = _ownName,
            UserName = _ownName,
            Password = _ownPassword,
        };

    /// <summary>Opens the embedded broker's port, or begins to connect.</summary>
    /// <exception cref="BrokerStartException">The port cannot be used.</exception>
    public async Task StartAsync(CancellationToken cancellationToken)
    {
        await _book.ResumeAsync(cancellationToken);
        await SwitchAsync(cancellationToken);
    }

    /// <summary>Tries an external broker before it is kept, under a client id of its own.</summary>
    /// <param name="external">How to reach it.</param>
    /// <param name="filter">What to listen to.</param>
    /// <param name="listening">How long to wait for a message.</param>
    /// <param name="cancellationToken">Gives up.</param>
    /// <exception cref="StorageUnavailableException">Our client id could not be kept.</exception>
    public async Task<BrokerTrialResult> TryAsync(ExternalBrokerSettings external, string filter, TimeSpan listening, CancellationToken cancellationToken)
    {
        var clientId = await _choice.ClientIdAsync(external, cancellationToken);
        var options = Options(external, clientId + "-trial") with { StepTimeout = TrialStep };
        // Real time even in the demo: a broker answers in its own.
        return await BrokerTrial.RunAsync(options, clientId, filter, listening, TimeProvider.System, cancellationToken);
    }

    /// <summary>Leaves states of ours at the broker, retained.</summary>
    /// <returns>Null when it has them, else why not; leaving them again does no harm.</returns>
    public async Task<Reason?> LeaveAsync(IReadOnlyList<StateMessage> messages, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(messages);
        switch (_open)
        {
            case { Embedded: { } embedded }:
                foreach (var message in messages)
                {
                    await embedded.LeaveAsync(message, cancellationToken);
                }

                return null;
            case { Beside: { } beside }:
                var own = beside with { ClientId = beside.ClientId.Replace("-listen", "-states", StringComparison.Ordinal) };
                return await StateVisit.LeaveAsync(own, messages, TimeProvider.System, cancellationToken);
            default:
                return State;
        }
    }

    /// <summary>Follows <see cref="BrokerChoice.Now"/>: the way before is closed, and the new one opened.</summary>
    /// <exception cref="BrokerStartException">The embedded broker's port cannot be used; the way before stays open.</exception>
    /// <exception cref="StorageUnavailableException">Our client id could not be kept; the way before stays open.</exception>
    public async Task SwitchAsync(CancellationToken cancellationToken)
    {
        await _switching.WaitAsync(cancellationToken);
        try
        {
            var settings = _choice.Now;
            if (_open is { } before && before.Settings == settings)
            {
                return;
            }

            if (settings.External is { } external)
            {
                // Closed first: both would use the same client id.
                var options = Options(external, await _choice.ClientIdAsync(external, cancellationToken));
                await CloseAsync(_open, cancellationToken);
                _open = OpenBroker.Connect(settings, options, to => new ExternalBrokerClient(to, _interest, RecordAsync, _store.ConfirmAcknowledgedAsync, _clock, _logger));
            }
            else
            {
                var was = _open;
                _open = await OpenBroker.ListenAsync(settings, Embedded(settings.Embedded), cancellationToken);
                await CloseAsync(was, cancellationToken);
            }
        }
        finally
        {
            _switching.Release();
        }
    }

    /// <summary>Acknowledges what is on disk and says goodbye.</summary>
    public Task StopAsync(CancellationToken cancellationToken) => _open?.StopAsync(cancellationToken) ?? Task.CompletedTask;

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        if (_open is { } open)
        {
            await open.DisposeAsync();
        }

        _switching.Dispose();
    }

    private static IEnumerable<string> FiltersOf(MappingBook book) => book.Active.Select(mapping => mapping.Filter.Text);

    private static async Task CloseAsync(OpenBroker? open, CancellationToken cancellationToken)
    {
        if (open is not null)
        {
            await open.StopAsync(cancellationToken);
            await open.DisposeAsync();
        }
    }

    private EmbeddedBroker Embedded(EmbeddedBrokerSettings settings)
    {
        var options = new EmbeddedBrokerOptions
        {
            Address = settings.Address,
            Port = settings.Port,
            Certificate = settings.Certificate,
            TlsPort = settings.TlsPort,
            Admission = _access.Admission with
            {
                Admits = (user, password) => user == _ownName
                    ? CryptographicOperations.FixedTimeEquals(password ?? [], Encoding.UTF8.GetBytes(_ownPassword))
                    : _access.Admission.Admits(user, password),
                MayPublish = (user, topic) => user == _ownName || _access.Admission.MayPublish(user, topic),
            },
        };
        return new EmbeddedBroker(options, _interest, RecordAsync, _store.ConfirmAcknowledgedAsync, _clock, _logger);
    }

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
        AuthorityText = settings.AuthorityText,
    };
}
