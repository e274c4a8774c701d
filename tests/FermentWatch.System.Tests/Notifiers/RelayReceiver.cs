using System.Collections.Concurrent;
using System.Net;
using System.Security.Cryptography.X509Certificates;
using System.Text;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Server.Kestrel.Core;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;

namespace FermentWatch.System.Tests.Notifiers;

/// <summary>What a receiver got.</summary>
public sealed record ReceivedRequest(string Method, string Path, string? Authorization, string? ContentType, string Body);

/// <summary>A real HTTP server on a free port of the loopback interface that answers as it is told.</summary>
public sealed class RelayReceiver : IAsyncDisposable
{
    private readonly WebApplication _application;

    private RelayReceiver(WebApplication application) => _application = application;

    public ConcurrentQueue<ReceivedRequest> Requests { get; } = new();

    public Uri Topic => new(_application.Urls.First() + "/hidden-topic-7341");

    public static async Task<RelayReceiver> StartAsync(Func<HttpContext, int, Task> answer, int port = 0, X509Certificate2? certificate = null)
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.ConfigureKestrel(options => options.Listen(IPAddress.Loopback, port, listen =>
        {
            if (certificate is not null)
            {
                listen.UseHttps(certificate);
            }
        }));
        builder.Services.Configure<KestrelServerOptions>(options => options.AddServerHeader = false);
        var receiver = new RelayReceiver(builder.Build());
        receiver._application.Run(async context =>
        {
            using var reader = new StreamReader(context.Request.Body, Encoding.UTF8);
            var request = context.Request;
            var body = await reader.ReadToEndAsync(context.RequestAborted);
            receiver.Requests.Enqueue(new ReceivedRequest(
                request.Method, request.Path, request.Headers.Authorization.FirstOrDefault(), request.ContentType, body));
            await answer(context, receiver.Requests.Count);
        });
        await receiver._application.StartAsync();
        return receiver;
    }

    public static Task<RelayReceiver> AnsweringAsync(int status) => StartAsync((context, _) =>
    {
        context.Response.StatusCode = status;
        return Task.CompletedTask;
    });

    public async ValueTask DisposeAsync()
    {
        using var atOnce = new CancellationTokenSource(TimeSpan.FromMilliseconds(100));
        await _application.StopAsync(atOnce.Token);
        await _application.DisposeAsync();
    }
}
