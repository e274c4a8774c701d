using System.Net;
using System.Text.Json.Nodes;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Batches;
using FermentWatch.System.Tests.EndToEnd;
using FermentWatch.System.Tests.InOut;
using FermentWatch.System.Tests.Mqtt;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace FermentWatch.System.Tests.Access;

/// <summary>Every address to which something can be sent, and who may send there. A new one without a line here fails.</summary>
public sealed class RoleMatrixTests
{
    // Null: nobody has to sign in; the door guards itself by a code, a password or a key.
    private static readonly Dictionary<string, Role?> Lowest = new()
    {
        ["/setup"] = null,
        ["/sign-in"] = null,
        ["/sign-out"] = null,
        ["/invitation/{code}"] = null,
        ["/act/{token}"] = null,
        ["/api/v1/readings"] = null,
        ["/account"] = Role.Viewer,
        ["/account/notices"] = Role.Viewer,
        ["/api/v1/worksheets/{name}"] = Role.Viewer,
        ["/batch/{id}/journal/new"] = Role.Taster,
        ["/batch/{id}/journal/{entry:long}/correct"] = Role.Taster,
        ["/batch/{id}/journal/{entry:long}/undo"] = Role.Taster,
        ["/batch/{id}/journal"] = Role.Maker,
        ["/alerts/act"] = Role.Maker,
        ["/start"] = Role.Maker,
        ["/batch/{id}/edit"] = Role.Maker,
        ["/batch/{id}/limits"] = Role.Maker,
        ["/batch/{id}/archive"] = Role.Maker,
        ["/archive/{id}/restore"] = Role.Maker,
        ["/people"] = Role.Maker,
        ["/devices"] = Role.Maker,
        ["/preferences/language"] = Role.Maker,
        ["/preferences/units"] = Role.Maker,
        ["/preferences/numbers"] = Role.Maker,
        ["/preferences/zone"] = Role.Maker,
        ["/preferences/quiet"] = Role.Maker,
        ["/preferences/address"] = Role.Maker,
        ["/preferences/messages"] = Role.Maker,
        ["/preferences/limits"] = Role.Maker,
        ["/preferences/scales"] = Role.Maker,
        ["/sensors/{name}/placement"] = Role.Maker,
        ["/sensors/{name}/move"] = Role.Maker,
        ["/sensors/{name}/inclination"] = Role.Maker,
        ["/sensors/{name}/adjust"] = Role.Maker,
        ["/sensors/{name}/retire"] = Role.Maker,
        ["/import"] = Role.Maker,
        ["/import/{key}"] = Role.Maker,
        ["/import/{key}/stop"] = Role.Maker,
        ["/channels"] = Role.Maker,
        ["/away"] = Role.Maker,
        ["/alert-health"] = Role.Maker,
        ["/work/{id}"] = Role.Maker,
        ["/work/{id}/done"] = Role.Maker,
        ["/listening/keep"] = Role.Maker,
        ["/listening/ignore"] = Role.Maker,
        ["/listening/show"] = Role.Maker,
        ["/listening/unit"] = Role.Maker,
        ["/listening/retire"] = Role.Maker,
        ["/listening/source"] = Role.Maker,
        ["/listening/scope"] = Role.Maker,
        ["/care/backup"] = Role.Maker,
        ["/care/diagnostics"] = Role.Maker,
        ["/broker/external"] = Role.Maker,
        ["/broker/embedded"] = Role.Maker,
        ["/trials/instruments"] = Role.Maker,
        ["/trials/new"] = Role.Maker,
        ["/trials/{trial:long}/mixed"] = Role.Maker,
        ["/trials/{trial:long}/jars"] = Role.Maker,
        ["/trials/{trial:long}/give-up"] = Role.Maker,
        ["/trials/{trial:long}/tasting"] = Role.Maker,
        ["/trials/{trial:long}/sheet"] = Role.Maker,
        ["/trials/{trial:long}/free"] = Role.Maker,
        ["/trials/{trial:long}/choose"] = Role.Maker,
        ["/trials/{trial:long}/flight"] = Role.Maker,
        ["/trials/{trial:long}/scale"] = Role.Maker,
        ["/tasting"] = null,
        ["/tasting/{code}"] = null,
        ["/tasting/{code}/glass/{glass}"] = null,
        ["/tasting/{code}/order"] = null,
    };

    [Fact]
    public async Task EveryRouteThatTakesSomething_LetsInTheRolesOfTheTableAndNobodyElse()
    {
        await using var service = await RunningService.StartAsync(_ => { });
        using var maker = await Visitor.FirstMakerAsync(service);
        using var taster = await maker.InviteAsync(service, "Tess", "taster");
        using var viewer = await maker.InviteAsync(service, "Vic", "viewer");
        using var stranger = new Visitor(service.Page);
        (Role? Role, Visitor Visitor)[] everybody = [(null, stranger), (Role.Viewer, viewer), (Role.Taster, taster), (Role.Maker, maker)];
        var found = service.Services.GetRequiredService<EndpointDataSource>().Endpoints.OfType<RouteEndpoint>()
            .SelectMany(endpoint => (endpoint.Metadata.GetMetadata<IHttpMethodMetadata>()?.HttpMethods ?? []).Select(method => (Method: method, Route: endpoint.RoutePattern.RawText!)))
            .Where(one => one.Method is not ("GET" or "HEAD"))
            .ToList();
        Assert.All(found, one => Assert.Equal("POST", one.Method));
        Assert.Equal(Lowest.Keys.Order(StringComparer.Ordinal), found.Select(one => one.Route).Order(StringComparer.Ordinal));
        foreach (var (route, lowest) in Lowest)
        {
            var path = route.Replace("{entry:long}", "1", StringComparison.Ordinal).Replace("{trial:long}", "1", StringComparison.Ordinal).Replace("{glass}", "417", StringComparison.Ordinal).Replace("{id}", "sloe", StringComparison.Ordinal)
                .Replace("{name}", "float", StringComparison.Ordinal).Replace("{key}", "a", StringComparison.Ordinal).Replace("{code}", "a", StringComparison.Ordinal).Replace("{token}", "a", StringComparison.Ordinal);
            foreach (var (role, visitor) in everybody)
            {
                using var answer = await visitor.Client.PostAsync(path[1..], new StringContent(""), TestContext.Current.CancellationToken);
                var expected = lowest is null || role >= lowest ? "in" : role is null ? "sign in" : "forbidden";
                var was = answer.StatusCode switch
                {
                    HttpStatusCode.Forbidden => "forbidden",
                    HttpStatusCode.Unauthorized when lowest is not null => "sign in",
                    _ => "in",
                };
                Assert.True(expected == was, $"POST {route} as {role?.ToString() ?? "nobody"}: {answer.StatusCode}, expected {expected}");
            }
        }
    }

    [Fact]
    public async Task Taster_AddsTastingNotesChangesTheirOwnAndNothingElse()
    {
        await using var service = await RunningService.StartAsync(file => file["Batches"] = new JsonArray(CellarWithBatch.Batch("sloe", "Sloe wine", "2026-03-01T08:00:00Z")));
        using var maker = await Visitor.FirstMakerAsync(service);
        using var taster = await maker.InviteAsync(service, "Tess", "taster");
        using var viewer = await maker.InviteAsync(service, "Vic", "viewer");
        await Eventually.TrueAsync(() => maker.GetAsync("batch/sloe").GetAwaiter().GetResult().StatusCode == HttpStatusCode.OK, "the batch is not on the board");
        var makers = await WriteAsync(maker, "tasted", "closed");
        var tasters = await WriteAsync(taster, "tasted", "plum and smoke");
        Assert.NotNull(makers);
        Assert.NotNull(tasters);
        Assert.Null(await WriteAsync(taster, "note", "not mine to write"));
        Assert.Null(await WriteAsync(viewer, "tasted", "nor mine"));
        Assert.Equal("Tess", service.Store.ReadJournalLines(new BatchId("sloe")).Single(line => line.Entry.Id == tasters).Entry.By);

        var page = await taster.Client.GetStringAsync("batch/sloe", TestContext.Current.CancellationToken);
        Assert.Contains($"journal/{tasters}/correct", page, StringComparison.Ordinal);
        Assert.DoesNotContain($"journal/{makers}/correct", page, StringComparison.Ordinal);
        Assert.DoesNotContain("kind=racked", page, StringComparison.Ordinal);
        Assert.DoesNotContain("journal/new", await viewer.Client.GetStringAsync("batch/sloe", TestContext.Current.CancellationToken), StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.Forbidden, (await taster.GetAsync($"batch/sloe/journal/{makers}/correct")).StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await taster.GetAsync($"batch/sloe/journal/{tasters}/correct")).StatusCode);
        using var foreign = await taster.SendAsync("account", $"batch/sloe/journal/{makers}/undo");
        using var own = await taster.SendAsync("account", $"batch/sloe/journal/{tasters}/undo");
        Assert.Equal([HttpStatusCode.Forbidden, HttpStatusCode.Redirect], [foreign.StatusCode, own.StatusCode]);
    }

    private static async Task<long?> WriteAsync(Visitor visitor, string kind, string text)
    {
        using var answer = await visitor.SendAsync("account", "batch/sloe/journal/new?kind=" + kind, ("at", "2026-03-02T10:00"), ("text", text));
        if (answer.StatusCode == HttpStatusCode.Forbidden)
        {
            return null;
        }

        Assert.True(answer.StatusCode == HttpStatusCode.Redirect, await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));
        return long.Parse(answer.Headers.Location!.ToString().Split("written=")[1].Split('#')[0], global::System.Globalization.CultureInfo.InvariantCulture);
    }
}
