using System.Net;
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
            using var folder = new TemporaryDataDirectory(configuration: null);
            await using var store = Store.Open(new StoreOptions(folder.Location), clock, NullLogger<Store>.Instance);
            using var relay = new RelayNotifier(new RelaySettings { Url = new Uri($"http://relay.example:{port}/t"), AnswerWithin = TimeSpan.FromSeconds(1) }, rules, clock);
            using var wishes = new WishBook(store, new EphemeralDataProtectionProvider(), new ChannelHouse(null, null, rules, clock));
            var page = new PageSettings(new Uri("http://127.0.0.1:5080"), "", null, TimeZoneInfo.Utc, "");
            var preferences = new PreferenceBook(new PreferenceSet { Zone = TimeZoneInfo.Utc }, new Dictionary<string, string>(), (_, _) => Task.CompletedTask);
            var delivery = new OutboxDelivery(store, [relay], wishes, new NoticeDesk(page, preferences, store, new Board(clock), new ActLinks(new EphemeralDataProtectionProvider())), clock, NullLogger<OutboxDelivery>.Instance);
            var draft = NoticeSamples.Of("temperature-above", "Quince mead");
            var now = ReceivedAt.From(Start);
            Assert.True(await store.CommitPassAsync(new PassResult(null, 0, now, null, [new OutboxEntry(draft.Key, "relay", AlertJson.Write(draft), now)], null), Stop));

            while (store.ReadNextDue() is { } due)
            {
                clock.MoveTo(due.ToDateTimeOffset());
                _isWell = due.ToDateTimeOffset() - Start >= WellAfter;
                receiver ??= _isWell ? await StartAsync(mode, port, forbidden.Topic) : null;
                Assert.Equal(1, await delivery.SendDueAsync(Stop));
            }

            var row = Assert.Single(store.ReadOutbox(10));
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
}
