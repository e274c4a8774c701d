using FermentWatch.Service.Dashboard;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using Microsoft.Extensions.Time.Testing;

namespace FermentWatch.System.Tests.Dashboard;

/// <summary>The pages on a free port of this machine, over a board that the test fills.</summary>
internal sealed class DashboardSite : IAsyncDisposable
{
    private readonly WebApplication _app;

    private DashboardSite(WebApplication app, string root, FakeTimeProvider time)
    {
        (_app, Time) = (app, time);
        Root = new Uri(root);
        Client = new HttpClient(new HttpClientHandler { AllowAutoRedirect = false }) { BaseAddress = Root };
    }

    public Uri Root { get; }

    public HttpClient Client { get; }

    public FakeTimeProvider Time { get; }

    public Board Board => _app.Services.GetRequiredService<Board>();

    public static async Task<DashboardSite> StartAsync(BoardSnapshot? snapshot, string pathBase = "", Action<WebApplication>? also = null)
    {
        var time = new FakeTimeProvider(InventedCellar.Now + TimeSpan.FromSeconds(5));
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.UseUrls("http://127.0.0.1:0");
        builder.Services.AddSingleton<TimeProvider>(time);
        builder.Services.AddDashboard(new DashboardOptions
        {
            PathBase = pathBase,
            Zone = TimeZoneInfo.CreateCustomTimeZone("test", TimeSpan.FromHours(-4), "test", "test"),
            CellarName = "Low Barn cellar",
        });
        var app = builder.Build();
        app.MapDashboard();
        also?.Invoke(app);
        await app.StartAsync().ConfigureAwait(false);
        var address = app.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()!.Addresses.First();
        var site = new DashboardSite(app, address + pathBase + "/", time);
        if (snapshot is not null)
        {
            site.Board.Publish(snapshot);
        }

        return site;
    }

    public async ValueTask DisposeAsync()
    {
        Client.Dispose();
        await _app.DisposeAsync().ConfigureAwait(false);
    }
}
