using System.Net;
using System.Security.Cryptography.X509Certificates;
using FermentWatch.Infrastructure.Notifiers;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Configuration;
using FermentWatch.Service.Dashboard;
using FermentWatch.Service.Dashboard.Acts;
using FermentWatch.Service.Dashboard.Preferences;
using FermentWatch.Service.Personal;
using FermentWatch.Service.Pipeline;
using FermentWatch.System.Tests.Configuration;
using FermentWatch.System.Tests.Mqtt;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.Logging.Abstractions;
using Xunit;

namespace FermentWatch.System.Tests.Notifiers;

/// <summary>A receiver that fails in one way for a day and is well again just before the last attempt: the notice arrives, once, and nothing went where it must not.</summary>
public sealed class DeliveryOverADayTests
{
    private const int MostRequests = 120;
    private static readonly DateTimeOffset Start = new(2026, 3, 2, 8, 0, 0, TimeSpan.Zero);
    private static readonly TimeSpan WellAfter = TimeSpan.FromHours(23.5);

    private volatile bool _isWell;

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData("500")]
    [InlineData("503")]
    [InlineData("429")]
    [InlineData("stalls")]
    [InlineData("drops")]
    [InlineData("refuses")]
    [InlineData("redirects to loopback")]
    [InlineData("redirects to link-local")]
    [InlineData("endless head")]
    [InlineData("endless body")]
    [InlineData("name leads to link-local")]
    [InlineData("name leads to a port of ours")]
    public async Task ReceiverThatFailsForADay_GetsTheNoticeInTheEnd(string mode)
    {
        await using var forbidden = await RelayReceiver.AnsweringAsync(200);
        var port = FreePort.Take();
        var receiver = mode == "refuses" ? null : await StartAsync(mode, port, forbidden.Topic);
        try
        {
            var rules = new OutgoingRules
            {
                ThisMachine = true,
                OwnPorts = () => mode == "name leads to a port of ours" && !_isWell ? [port] : [],
                Resolve = (_, _) => Task.FromResult<IPAddress[]>([mode == "name leads to link-local" && !_isWell ? IPAddress.Parse("169.254.169.254") : IPAddress.Loopback]),
            };
            var clock = new DemoClock(Start);
            await using var way = await Way.OpenAsync(new Uri($"http://relay.example:{port}/t"), rules, clock, 1);
            while (way.Store.ReadNextDue() is { } due)
            {
                clock.MoveTo(due.ToDateTimeOffset());
                _isWell = due.ToDateTimeOffset() - Start >= WellAfter;
                receiver ??= _isWell ? await StartAsync(mode, port, forbidden.Topic) : null;
                Assert.Equal(1, await way.Delivery.SendDueAsync(Stop));
            }

            var row = Assert.Single(way.Store.ReadOutbox(10));
            Assert.True(row.State == OutboxState.Sent, $"{mode}: {row.State} after {row.Attempts} attempts, {row.LastError}");
            Assert.InRange(receiver!.Requests.Count, 1, MostRequests);
            Assert.InRange(row.Attempts, 2, DeliverySchedule.Attempts);
            Assert.Empty(forbidden.Requests);
        }
        finally
        {
            if (receiver is not null)
            {
                await receiver.DisposeAsync();
            }
        }
    }

    /// <summary>Whether the certificate ran out or is somebody else's, the receiver learns nothing of the notice, which waits and says why.</summary>
    [Theory]
    [InlineData(true, true)]
    [InlineData(false, true)]
    [InlineData(false, false)]
    public async Task ReceiverWithABadCertificate_GetsNothingAndTheNoticeWaits(bool isExpired, bool nameMatches)
    {
        using var authority = new TestAuthority();
        using var folder = new TemporaryDataDirectory(configuration: null);
        authority.WriteFiles(folder.Location, nameMatches, isExpired);
        using var certificate = X509Certificate2.CreateFromPemFile(Path.Combine(folder.Location, "broker.pem"), Path.Combine(folder.Location, "broker.key"));
        await using var receiver = await RelayReceiver.StartAsync((_, _) => Task.CompletedTask, certificate: certificate);
        var clock = new DemoClock(Start);
        await using var way = await Way.OpenAsync(receiver.Topic, new OutgoingRules { ThisMachine = true }, clock, 60);
        var attempts = 0;
        while (way.Store.ReadNextDue() is { } due && due.ToDateTimeOffset() - Start < WellAfter)
        {
            clock.MoveTo(due.ToDateTimeOffset());
            Assert.Equal(1, await way.Delivery.SendDueAsync(Stop));
            attempts++;
            var row = Assert.Single(way.Store.ReadOutbox(10));
            Assert.Equal((OutboxState.Waiting, attempts), (row.State, row.Attempts));
            Assert.Contains("relay-certificate", row.LastError, StringComparison.Ordinal);
        }

        Assert.Equal(DeliverySchedule.Attempts - 1, attempts);
        Assert.Empty(receiver.Requests);
    }

    [Fact]
    public async Task YesThatNeverEnds_IsTakenOnceAndTheRestIsNotRead()
    {
        var isOver = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        await using var receiver = await RelayReceiver.StartAsync(async (context, _) =>
        {
            try
            {
                while (true)
                {
                    await context.Response.Body.WriteAsync(new byte[16 * 1024], context.RequestAborted);
                }
            }
            catch (Exception fault) when (fault is OperationCanceledException or IOException)
            {
                isOver.SetResult();
            }
        });
        var clock = new DemoClock(Start);
        await using var way = await Way.OpenAsync(receiver.Topic, new OutgoingRules { ThisMachine = true }, clock, 60);
        clock.MoveTo(Start.AddMinutes(1));
        Assert.Equal(1, await way.Delivery.SendDueAsync(Stop));

        Assert.Equal((OutboxState.Sent, 1), (Assert.Single(way.Store.ReadOutbox(10)).State, receiver.Requests.Count));
        // The connection is closed on it.
        await isOver.Task.WaitAsync(TimeSpan.FromMinutes(1), Stop);
    }

    private Task<RelayReceiver> StartAsync(string mode, int port, Uri forbidden) => RelayReceiver.StartAsync((context, _) => AnswerAsync(context, _isWell ? "well" : mode, forbidden), port);

    private static async Task AnswerAsync(HttpContext context, string mode, Uri forbidden)
    {
        var answer = context.Response;
        switch (mode)
        {
            case "500" or "503":
                answer.StatusCode = int.Parse(mode, global::System.Globalization.CultureInfo.InvariantCulture);
                break;
            case "429":
                answer.StatusCode = 429;
                answer.Headers.RetryAfter = "3600";
                break;
            case "stalls":
                await Task.Delay(Timeout.Infinite, context.RequestAborted).ContinueWith(_ => { }, TaskScheduler.Default);
                break;
            case "drops":
                context.Abort();
                break;
            case "redirects to loopback":
                answer.Redirect(forbidden.AbsoluteUri, permanent: false, preserveMethod: true);
                break;
            case "redirects to link-local":
                answer.Redirect("http://169.254.169.254/", permanent: true, preserveMethod: true);
                break;
            case "endless body":
                answer.StatusCode = 500;
                try
                {
                    while (true)
                    {
                        await answer.Body.WriteAsync(new byte[16 * 1024], context.RequestAborted);
                    }
                }
                catch (Exception fault) when (fault is OperationCanceledException or IOException)
                {
                    break;
                }

            case "endless head":
                answer.Headers["X-Long"] = new string('a', 64 * 1024);
                break;
        }
    }

    /// <summary>A store with one notice to send and the delivery as the service makes it.</summary>
    private sealed class Way(TemporaryDataDirectory folder, RelayNotifier relay, WishBook wishes) : IAsyncDisposable
    {
        public required Store Store { get; init; }

        public required OutboxDelivery Delivery { get; init; }

        public static async Task<Way> OpenAsync(Uri address, OutgoingRules rules, TimeProvider clock, int answerWithinSeconds)
        {
            var folder = new TemporaryDataDirectory(configuration: null);
            var store = Store.Open(new StoreOptions(folder.Location), clock, NullLogger<Store>.Instance);
            var relay = new RelayNotifier(new RelaySettings { Url = address, AnswerWithin = TimeSpan.FromSeconds(answerWithinSeconds) }, rules, clock);
            var wishes = new WishBook(store, new EphemeralDataProtectionProvider(), new ChannelHouse(null, null, rules, clock));
            var page = new PageSettings(new Uri("http://127.0.0.1:5080"), "", null, TimeZoneInfo.Utc, "");
            var preferences = new PreferenceBook(new PreferenceSet { Zone = TimeZoneInfo.Utc }, new Dictionary<string, string>(), (_, _) => Task.CompletedTask);
            var desk = new NoticeDesk(page, preferences, store, new Board(clock), new ActLinks(new EphemeralDataProtectionProvider()));
            var draft = NoticeSamples.Of("temperature-above", "Quince mead");
            var now = ReceivedAt.From(Start);
            Assert.True(await store.CommitPassAsync(new PassResult(null, 0, now, null, [new OutboxEntry(draft.Key, "relay", AlertJson.Write(draft), now)], null), Stop));
            return new Way(folder, relay, wishes)
            {
                Store = store,
                Delivery = new OutboxDelivery(store, [relay], wishes, desk, clock, NullLogger<OutboxDelivery>.Instance),
            };
        }

        public async ValueTask DisposeAsync()
        {
            relay.Dispose();
            wishes.Dispose();
            await Store.DisposeAsync();
            folder.Dispose();
        }
    }
}
