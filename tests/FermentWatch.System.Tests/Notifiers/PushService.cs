using System.Net;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.Logging;

namespace FermentWatch.System.Tests.Notifiers;

/// <summary>A push service on a free port of the loopback interface that takes bytes as they come.</summary>
internal sealed class PushService : IAsyncDisposable
{
    private readonly WebApplication _application;

    private PushService(WebApplication application) => _application = application;

    /// <summary>Address of a subscription.</summary>
    public Uri Address => new(_application.Urls.First() + "/send/quiet-4711");

    public static async Task<PushService> StartAsync(Func<HttpContext, Task> answer)
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.ConfigureKestrel(options => options.Listen(IPAddress.Loopback, 0));
        var service = new PushService(builder.Build());
        service._application.Run(context => answer(context));
        await service._application.StartAsync();
        return service;
    }

    public async ValueTask DisposeAsync()
    {
        using var atOnce = new CancellationTokenSource(TimeSpan.FromMilliseconds(100));
        await _application.StopAsync(atOnce.Token);
        await _application.DisposeAsync();
    }
}
