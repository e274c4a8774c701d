using System.Net;
using System.Security.Cryptography;
using System.Text.Json;
using FermentWatch.Infrastructure.Notifiers;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.System.Tests.Access;
using FermentWatch.System.Tests.Dashboard;
using FermentWatch.System.Tests.EndToEnd;
using Microsoft.Playwright;
using Xunit;

namespace FermentWatch.System.Tests.Personal;

/// <summary>Our service worker in a real browser: what is pushed to it becomes a notice with buttons.</summary>
public sealed class PushBrowserTests(Browser browser) : IClassFixture<Browser>
{
    private const string Registered = "async () => { await navigator.serviceWorker.register('/push-worker.js', { scope: '/' }); await navigator.serviceWorker.ready; }";

    private const string Shown =
        "async () => (await (await navigator.serviceWorker.ready).getNotifications()).map(one => ({ title: one.title, body: one.body, tag: one.tag, page: one.data.page, acts: one.data.acts, buttons: one.actions.map(act => act.title) }))";

    [Fact]
    public async Task PushedMessage_IsShownAndANewerOneOfItsKeyReplacesIt()
    {
        await using var service = await RunningService.StartAsync(_ => { });
        var (page, errors) = await browser.OpenAsync(390, 844, ColorScheme.Light);
        await page.Context.GrantPermissionsAsync(["notifications"]);
        await page.GotoAsync(service.Page.AbsoluteUri);
        var protocol = await page.Context.NewCDPSessionAsync(page);
        var registration = new TaskCompletionSource<string>(TaskCreationOptions.RunContinuationsAsynchronously);
        protocol.Event("ServiceWorker.workerRegistrationUpdated").OnEvent += (_, told) =>
        {
            foreach (var one in told!.Value.GetProperty("registrations").EnumerateArray())
            {
                registration.TrySetResult(one.GetProperty("registrationId").GetString()!);
            }
        };
        await protocol.SendAsync("ServiceWorker.enable");
        await page.EvaluateAsync(Registered);
        var id = await registration.Task.WaitAsync(TimeSpan.FromSeconds(60), TestContext.Current.CancellationToken);
        foreach (var title in new[] { "Plum: 27.8 °C, limit 25 °C", "Plum: 29.1 °C, limit 25 °C" })
        {
            var notice = new NoticeMessage("plum/temperature-band/float/1", title, "Ventilate first.", Severity.Warning, Silent: false, new Uri("https://cellar.example/batch/plum"))
            {
                Acts = ValueList.Of(new NoticeAct("on-it", "On it", new Uri("https://cellar.example/act/a")), new NoticeAct("snooze", "Snooze 4 h", new Uri("https://cellar.example/act/b"))),
            };
            JsonElement shown = default;
            var polls = 0;
            await Mqtt.Eventually.TrueAsync(
                () =>
                {
                    // The browser's tools drop a message for a worker that is not up yet: as a push service would, send it again. The key is the same, so it stays one.
                    if (polls++ % 200 == 0)
                    {
                        protocol.SendAsync("ServiceWorker.deliverPushMessage", new()
                        {
                            ["origin"] = service.Page.GetLeftPart(UriPartial.Authority),
                            ["registrationId"] = id,
                            ["data"] = global::System.Text.Encoding.UTF8.GetString(WebhookNotifier.Body(notice)),
                        }).GetAwaiter().GetResult();
                    }

                    shown = page.EvaluateAsync<JsonElement>(Shown).GetAwaiter().GetResult();
                    return shown.GetArrayLength() == 1 && shown[0].GetProperty("title").GetString() == title;
                },
                () => shown.ToString(),
                TimeSpan.FromSeconds(180));
            Assert.Equal(("Ventilate first.", "plum/temperature-band/float/1", "https://cellar.example/batch/plum"), (shown[0].GetProperty("body").GetString(), shown[0].GetProperty("tag").GetString(), shown[0].GetProperty("page").GetString()));
            Assert.Equal(["On it", "Snooze 4 h"], shown[0].GetProperty("buttons").EnumerateArray().Select(one => one.GetString()));
            Assert.Equal("https://cellar.example/act/b", shown[0].GetProperty("acts").GetProperty("snooze").GetString());
        }

        Assert.Empty(errors);
    }

    [Fact]
    public async Task Page_OffersItWhereABrowserCanAndSaysWhyWhereItCannot()
    {
        await using var service = await RunningService.StartAsync(_ => { });
        using var maker = await Visitor.FirstMakerAsync(service);
        var here = await maker.Client.GetStringAsync("account/notices", TestContext.Current.CancellationToken);
        Assert.Matches("data-push=\"B[A-Za-z0-9_-]{86}\"", here);
        Assert.DoesNotContain("id=\"push-plain\"", here, StringComparison.Ordinal);
        using var plain = new HttpRequestMessage(HttpMethod.Get, "account/notices");
        plain.Headers.Host = "cellar.lan";
        using var answer = await maker.Client.SendAsync(plain, TestContext.Current.CancellationToken);
        // The cookie is bound to no name of the host: the answer is the same page, with the reason instead of the form.
        var html = await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
        Assert.True(answer.StatusCode == HttpStatusCode.OK, html);
        Assert.Contains("id=\"push-plain\"", html, StringComparison.Ordinal);
        Assert.DoesNotContain("data-push=", html, StringComparison.Ordinal);
    }

    [Fact]
    public void Subscription_TakesOnlyWhatABrowserGives()
    {
        var fields = new Service.Personal.PushChannelKind().Fields.ToDictionary(field => field.Name, field => field.Fits);
        using var pair = ECDiffieHellman.Create(ECCurve.NamedCurves.nistP256);
        var point = PushEncryption.PointOf(pair.ExportParameters(false));
        Assert.True(fields["key"](global::System.Buffers.Text.Base64Url.EncodeToString(point)));
        point[64] ^= 1;
        Assert.False(fields["key"](global::System.Buffers.Text.Base64Url.EncodeToString(point)), "a point that is not on the curve");
        Assert.False(fields["key"]("AAAA"));
        Assert.False(fields["secret"]("AAAA"));
        Assert.True(fields["secret"]("BTBZMqHH6r4Tts7J_aSIgg"));
        Assert.False(fields["address"]("javascript:alert(1)"));
    }
}
