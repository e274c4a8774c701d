using System.Buffers.Text;
using System.Collections.Concurrent;
using System.Security.Cryptography;
using FermentWatch.Infrastructure.Mqtt;
using FermentWatch.Infrastructure.Notifiers;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Configuration;
using FermentWatch.Service.Dashboard;
using FermentWatch.Service.Dashboard.Acts;
using FermentWatch.Service.Dashboard.InOut;
using FermentWatch.Service.Dashboard.Preferences;
using FermentWatch.Service.Dashboard.Words;
using FermentWatch.Service.InOut;
using FermentWatch.Service.Personal;
using FermentWatch.Service.Pipeline;
using FermentWatch.Service.Texts;
using FermentWatch.System.Tests.Configuration;
using FermentWatch.System.Tests.Notifiers;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.Logging;
using Xunit;

namespace FermentWatch.System.Tests.Personal;

/// <summary>What holds for every channel of the catalogue: it has its texts, and whatever goes wrong, no secret of it is logged, stored in the clear, or told.</summary>
public sealed class ChannelContractTests
{
    private const string MailPassword = "canary-mail-password-4711";
    private const string RelayNotifierName = "relay";

    private static readonly string[] Modes = ["takes it", "refuses connections", "stalls", "drops", "400", "401", "404", "410", "429", "500", "503", "redirects", "forbidden place"];

    private static readonly Person Owner = new(7, "Ada", Role.Maker, HasPassword: true, IsDisabled: false);

    public static TheoryData<string> Kinds => [.. PersonalChannelCatalog.All.Select(kind => kind.Id)];

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Theory]
    [MemberData(nameof(Kinds))]
    public async Task WhateverTheReceiverDoes_NoSecretIsToldLoggedOrStored(string id)
    {
        var kind = PersonalChannelCatalog.All.Single(one => one.Id == id);
        var reached = await HoldsAsync(id, (port, house) =>
        {
            var values = kind.Fields.ToDictionary(field => field.Name, field => Canary(id, field, port));
            Assert.All(kind.Fields, field => Assert.True(field.Fits(values[field.Name]), $"{id}-{field.Name} does not take '{values[field.Name]}': give its canary above"));
            string[] secrets = [.. kind.Fields.Where(field => field.IsSecret).SelectMany(field => Forms(values[field.Name])), MailPassword];
            return (kind.Build("person-7-" + id, values, Owner, house), [kind.Shown(values)], secrets);
        });
        Assert.True(id == "mail" || reached >= 2 * (Modes.Length - 3), $"{id}: the receiver was asked only {reached} times");
    }

    [Theory]
    [InlineData(RelayNotifierName)]
    [InlineData("house-mail")]
    [InlineData(MqttNotifier.Name)]
    public async Task WhateverTheReceiverOfTheHouseDoes_NoSecretIsToldLoggedOrStored(string id)
    {
        var reached = await HoldsAsync(id, (port, house) =>
        {
            var relay = new RelaySettings { Url = new Uri($"http://127.0.0.1:{port}/canary-path-4711"), BearerToken = "canary-token-4711" };
            var broker = new ExternalBrokerOptions { Host = "127.0.0.1", Port = port, ClientId = "post", UserName = "cellar", Password = "canary-broker-4711" };
            INotifier notifier = id switch
            {
                RelayNotifierName => new RelayNotifier(relay, house.Outgoing, TimeProvider.System),
                MqttNotifier.Name => new MqttNotifier(() => broker, TimeProvider.System),
                _ => new MailNotifier(house.Mail!, TimeProvider.System),
            };
            return (notifier, [relay.ToString(), broker.ToString()], ["canary-path-4711", "canary-token-4711", "canary-broker-4711", MailPassword]);
        });
        Assert.True(id != RelayNotifierName || reached >= 2 * (Modes.Length - 3), $"{id}: the receiver was asked only {reached} times");
    }

    /// <summary>Delivers in every mode and looks for secrets in all that is then told, logged, shown and stored. How often the receiver was asked.</summary>
    private static async Task<int> HoldsAsync(string id, Func<int, ChannelHouse, (INotifier Notifier, string[] Shown, string[] Secrets)> build)
    {
        var told = new List<(string Mode, string Text)>();
        var reached = 0;
        string[] secrets = [];
        foreach (var mode in Modes)
        {
            await using var receiver = await RelayReceiver.StartAsync((context, _) => AnswerAsync(context, mode));
            await using var mail = new ScriptedMailServer(line => line.Split(' ')[0] switch
            {
                "connect" => "220 ready",
                "EHLO" => "250-here\r\n250 AUTH PLAIN",
                _ => mode == "drops" ? null : $"535 no: {line} {MailPassword}",
            });
            var port = mode == "refuses connections" ? Mqtt.FreePort.Take() : receiver.Topic.Port;
            var logger = new CapturingLogger();
            var rules = new OutgoingRules { ThisMachine = mode != "forbidden place" };
            var house = new ChannelHouse(new MailSettings("127.0.0.1", mail.Port, MailSecurity.None, "from@example.org", ValueList.Of<string>("to@example.org")) { User = "u", Password = MailPassword, AnswerWithin = TimeSpan.FromSeconds(2) }, null, rules, TimeProvider.System);
            (var notifier, var shown, secrets) = build(port, house);
            using var disposable = notifier as IDisposable;
            told.AddRange(shown.Append(notifier.ToString()!).Select(text => (mode, text)));
            told.AddRange((await DeliveredAsync(id, mode, notifier)).Select(text => (mode, text)));
            if (mode is not "stalls")
            {
                told.AddRange((await ThroughTheOutboxAsync(notifier, house, logger)).Select(text => (mode, text)));
            }

            told.AddRange(logger.Lines.Select(line => (mode, line)));
            reached += receiver.Requests.Count;
        }

        foreach (var (mode, text) in told)
        {
            Assert.All(secrets, secret => Assert.False(text.Contains(secret, StringComparison.OrdinalIgnoreCase), $"{id}, {mode}: '{secret}' stands in '{text}'"));
        }

        return reached;
    }

    /// <summary>One delivery: what its result says, to the program and to people.</summary>
    private static async Task<List<string>> DeliveredAsync(string id, string mode, INotifier notifier)
    {
        var message = new NoticeMessage("a/b/1", "A title", "A text.", Severity.Warning, Silent: false, Link: null);
        using var patience = CancellationTokenSource.CreateLinkedTokenSource(Stop);
        patience.CancelAfter(mode == "stalls" ? TimeSpan.FromSeconds(1) : TimeSpan.FromMinutes(2));
        try
        {
            var result = await notifier.DeliverAsync(message, patience.Token);
            var because = result switch { DeliveryResult.TryAgain again => again.Because, DeliveryResult.Refused refused => refused.Because, _ => null };
            Assert.True(because is null || NoticeText.Knows(because.Code), $"{id}, {mode}: '{because?.Code}' has no words");
            return [result.ToString()!, ChannelWords.Of(new ChannelTest(DateTimeOffset.UnixEpoch, result), new Reader(TimeZoneInfo.Utc))];
        }
        catch (OperationCanceledException cancelled)
        {
            return [cancelled.ToString()];
        }
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public void Kind_HasItsTexts(string id)
    {
        var kind = PersonalChannelCatalog.All.Single(one => one.Id == id);
        Assert.NotEmpty(PersonalText.Of(id));
        foreach (var field in kind.Fields)
        {
            Assert.NotEmpty(PersonalText.Of($"{id}-{field.Name}-fault", "x"));
            if (kind is not PushChannelKind)
            {
                Assert.NotEmpty(PersonalText.Of($"{id}-{field.Name}"));
                Assert.NotEmpty(PersonalText.Of($"{id}-{field.Name}-hint"));
            }

            // A secret is never repeated in what is said about it.
            Assert.Equal(field.IsSecret, !PersonalText.Of($"{id}-{field.Name}-fault", "typed-4711").Contains("typed-4711", StringComparison.Ordinal));
        }
    }

    [Theory]
    [InlineData("relay")]
    [InlineData("webhook")]
    [InlineData("push")]
    public void EveryWayToFailOverHttp_HasWords(string word)
    {
        Assert.All(["slow", "unreachable", "certificate", "redirects", "busy", "failing", "forbids", "refuses"], end => Assert.True(NoticeText.Knows($"{word}-{end}"), $"{word}-{end}"));
        Assert.All(Enum.GetValues<ForbiddenPlace>(), place => Assert.True(NoticeText.Knows(new ForbiddenAddressException(place).Because.Code), $"{place}"));
    }

    /// <summary>Another delivery, as the service makes it: what the log and the outbox then hold.</summary>
    private static async Task<List<string>> ThroughTheOutboxAsync(INotifier notifier, ChannelHouse house, CapturingLogger logger)
    {
        var clock = new DemoClock(new DateTimeOffset(2026, 3, 2, 8, 0, 0, TimeSpan.Zero));
        using var folder = new TemporaryDataDirectory(configuration: null);
        await using var store = Store.Open(new StoreOptions(folder.Location), clock, new LoggerFactoryOf(logger).CreateLogger<Store>());
        using var wishes = new WishBook(store, new EphemeralDataProtectionProvider(), house);
        var page = new PageSettings(new Uri("http://127.0.0.1:5080"), "", null, TimeZoneInfo.Utc, "");
        var preferences = new PreferenceBook(new PreferenceSet { Zone = TimeZoneInfo.Utc }, new Dictionary<string, string>(), (_, _) => Task.CompletedTask);
        var desk = new NoticeDesk(page, preferences, store, new Board(clock), new ActLinks(new EphemeralDataProtectionProvider()));
        var delivery = new OutboxDelivery(store, [notifier], wishes, desk, clock, new LoggerFactoryOf(logger).CreateLogger<OutboxDelivery>());
        var draft = NoticeSamples.Of("temperature-above", "Quince mead");
        var now = ReceivedAt.From(clock.GetUtcNow());
        Assert.True(await store.CommitPassAsync(new PassResult(null, 0, now, null, [new OutboxEntry(draft.Key, notifier.Channel, AlertJson.Write(draft), now)], null), Stop));
        Assert.Equal(1, await delivery.SendDueAsync(Stop));
        var row = Assert.Single(store.ReadOutbox(10));
        Assert.NotEmpty(logger.Lines);
        return [row.ToString(), row.LastError ?? "", ChannelWords.Last(row, preferences.Reader)];
    }

    /// <summary>A value that the field takes and that nobody would say by chance.</summary>
    private static string Canary(string kind, ChannelField field, int port) => (kind, field.Name) switch
    {
        ("mail", "address") => "canary-4711@example.org",
        (_, "address") => $"http://127.0.0.1:{port}/canary-path-4711",
        ("push", "key") => Base64Url.EncodeToString(Point()),
        ("push", "secret") => Base64Url.EncodeToString("canary-push-4711"u8),
        var (_, name) => $"canary-{name}-4711",
    };

    // Of an address its path is the secret: the host may be shown.
    private static IEnumerable<string> Forms(string secret) => Uri.TryCreate(secret, UriKind.Absolute, out var address) && address.Scheme == "http" ? [address.AbsolutePath] : [secret];

    private static byte[] Point()
    {
        using var pair = ECDiffieHellman.Create(ECCurve.NamedCurves.nistP256);
        return PushEncryption.PointOf(pair.ExportParameters(includePrivateParameters: false));
    }

    /// <summary>Repeats everything that it was sent, as a receiver in debugging does.</summary>
    private static async Task AnswerAsync(HttpContext context, string mode)
    {
        var (request, answer) = (context.Request, context.Response);
        switch (mode)
        {
            case "stalls":
                await Task.Delay(Timeout.Infinite, context.RequestAborted).ContinueWith(_ => { }, TaskScheduler.Default);
                return;
            case "drops":
                context.Abort();
                return;
            case "redirects":
                answer.Redirect("http://127.0.0.1:9" + request.Path);
                break;
            default:
                answer.StatusCode = int.TryParse(mode, global::System.Globalization.CultureInfo.InvariantCulture, out var status) ? status : 200;
                break;
        }

        await answer.WriteAsync(string.Join('\n', request.Headers.Select(one => $"{one.Key}: {one.Value}")) + request.Path, context.RequestAborted);
    }

    private sealed class CapturingLogger : ILogger
    {
        public ConcurrentQueue<string> Lines { get; } = new();

        public IDisposable? BeginScope<TState>(TState state)
            where TState : notnull => null;

        public bool IsEnabled(LogLevel logLevel) => true;

        public void Log<TState>(LogLevel logLevel, EventId eventId, TState state, Exception? exception, Func<TState, Exception?, string> formatter) => Lines.Enqueue($"{logLevel} {formatter(state, exception)} {exception}");
    }

    private sealed class LoggerFactoryOf(ILogger logger) : ILoggerFactory
    {
        public void AddProvider(ILoggerProvider provider)
        {
            // One logger for everything.
        }

        public ILogger CreateLogger(string categoryName) => logger;

        public void Dispose()
        {
            // Nothing of its own.
        }
    }
}
