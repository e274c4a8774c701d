using FermentWatch.Infrastructure.Influx;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.Logging;

namespace FermentWatch.System.Tests.Influx;

/// <summary>An HTTP server that gives every request the same answer: faults that a real one cannot be asked for.</summary>
internal sealed class AnsweringServer : IAsyncDisposable
{
    private readonly WebApplication _app;
    private int _requests;

    private AnsweringServer(int status)
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.UseUrls("http://127.0.0.1:0");
        _app = builder.Build();
        _app.Run(async context =>
        {
            Interlocked.Increment(ref _requests);
            LastAuthorization = context.Request.Headers.Authorization;
            await context.Request.Body.CopyToAsync(Stream.Null);
            if (Hangs)
            {
                await Task.Delay(Timeout.Infinite, context.RequestAborted).ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
            }

            context.Response.StatusCode = status;
            if (status == 429)
            {
                context.Response.Headers.RetryAfter = "7";
            }

            await context.Response.WriteAsync($$"""{"code":"told","message":"no, {{LastAuthorization}}"}""");
        });
    }

    public int Requests => _requests;

    public string? LastAuthorization { get; private set; }

    public bool Hangs { get; init; }

    public InfluxSettings Settings => new(new Uri(_app.Urls.First()), "home", "cellar", "attic") { FirstPause = TimeSpan.FromMilliseconds(1), AnswerWithin = TimeSpan.FromSeconds(Hangs ? 1 : 30) };

    public static async Task<AnsweringServer> StartAsync(int status, bool hangs = false)
    {
        var server = new AnsweringServer(status) { Hangs = hangs };
        await server._app.StartAsync(InfluxOne.Stop);
        return server;
    }

    public async ValueTask DisposeAsync()
    {
        using var atOnce = new CancellationTokenSource(TimeSpan.FromSeconds(1));
        await _app.StopAsync(atOnce.Token);
        await _app.DisposeAsync();
    }
}
