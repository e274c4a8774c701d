using System.Net;
using System.Text.Json.Nodes;
using FermentWatch.System.Tests.Access;
using FermentWatch.System.Tests.EndToEnd;
using FermentWatch.System.Tests.Mqtt;
using FermentWatch.System.Tests.Notifiers;
using Xunit;

namespace FermentWatch.System.Tests.Acts;

/// <summary>The page for when the maker is away, the page of how good the alerts are, and the watcher outside of the house.</summary>
public sealed class HelpPagesTests
{
    [Fact]
    public async Task SilencedAlert_IsListedWithItsReasonAndTheWatcherIsNamedByHostAlone()
    {
        await using var watcher = await RelayReceiver.AnsweringAsync(200);
        await using var relay = await RelayReceiver.AnsweringAsync(200);
        await using var cellar = await WarmCellar.StartAsync(
            file =>
            {
                file["Relay"] = new JsonObject { ["Url"] = relay.Topic.AbsoluteUri };
                file["Alerts"] = new JsonObject { ["HeartbeatUrl"] = watcher.Topic.AbsoluteUri };
            },
            24);
        await Eventually.TrueAsync(() => !watcher.Requests.IsEmpty, "no sign of life came");
        Assert.Equal("GET", watcher.Requests.First().Method);
        using var client = new HttpClient { BaseAddress = cellar.Service.Page };

        var before = WebUtility.HtmlDecode(await client.GetStringAsync("alert-health", TestContext.Current.CancellationToken));
        Assert.Contains("Temperature outside the band: 1 told, 0 called wrong", before, StringComparison.Ordinal);
        Assert.Contains("took the last sign of life", before, StringComparison.Ordinal);
        Assert.DoesNotContain("hidden-topic", before, StringComparison.Ordinal);
        Assert.Contains("Nobody confirmed that one arrived.", before, StringComparison.Ordinal);

        await cellar.Service.Store.ActAsync(
            new("sloe"), cellar.Alert.Key, Monitoring.Alerting.AlertAct.Wrong, Monitoring.Telemetry.ReceivedAt.From(WarmCellar.Start.AddMinutes(121)), TestContext.Current.CancellationToken);
        var after = WebUtility.HtmlDecode(await client.GetStringAsync("alert-health", TestContext.Current.CancellationToken));
        Assert.Contains("Temperature outside the band: 1 told, 1 called wrong", after, StringComparison.Ordinal);
        Assert.Contains("Called wrong Oct", after, StringComparison.Ordinal);
    }

    [Fact]
    public async Task AwayWithAHelper_IsKeptAndAWrongDayIsNamed()
    {
        await using var relay = await RelayReceiver.AnsweringAsync(200);
        await using var service = await RunningService.StartAsync(_ => { });
        using var ada = await Visitor.FirstMakerAsync(service);
        using var channel = await ada.SendAsync("account/notices", "account/notices", ("do", "channel"), ("kind", "relay"), ("relay-address", relay.Topic.ToString()));
        var id = service.Store.FindPerson("Ada")!.Id.ToString(global::System.Globalization.CultureInfo.InvariantCulture);
        var day = DateTime.UtcNow.AddDays(9).ToString("yyyy-MM-dd", global::System.Globalization.CultureInfo.InvariantCulture);

        using var wrong = await ada.SendAsync("away", "away", ("until", "2020-02-30"), ("helper", id), ("second", "0"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, wrong.StatusCode);
        Assert.Contains("'2020-02-30' is no day", WebUtility.HtmlDecode(await wrong.Content.ReadAsStringAsync(TestContext.Current.CancellationToken)), StringComparison.Ordinal);

        using var kept = await ada.SendAsync("away", "away", ("until", day), ("helper", id), ("second", "999"));
        Assert.EndsWith("away", kept.Headers.Location?.ToString(), StringComparison.Ordinal);
        using var page = await ada.GetAsync("away");
        var text = await page.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
        Assert.Contains($"value=\"{day}\"", text, StringComparison.Ordinal);
        Assert.Contains("Nothing will be due within 30 days", text, StringComparison.Ordinal);
        // A person that does not exist helps nobody.
        Assert.Equal(2, text.Split(" selected").Length);
    }
}
