using System.Globalization;
using System.Net.ServerSentEvents;
using System.Runtime.CompilerServices;
using System.Threading.Channels;

namespace FermentWatch.Service.Dashboard;

/// <summary>Tells open pages by server-sent events which part of the board has a new version.</summary>
internal static class LiveFeed
{
    public static void Map(IEndpointRouteBuilder routes) => routes.MapGet(
        "/live",
        (HttpContext context, Board board, DashboardOptions options, TimeProvider time, IHostApplicationLifetime lifetime) =>
        {
            // A proxy that buffers would hold events back.
            context.Response.Headers["X-Accel-Buffering"] = "no";
            context.Response.Headers.CacheControl = "no-store";
            return TypedResults.ServerSentEvents(Events(board, options.PingInterval, time, context.RequestAborted, lifetime.ApplicationStopping));
        });

    /// <summary>Data is 'topic version'; events named 'ping' keep the connection open. Ends when the reader leaves or the service stops.</summary>
    private static async IAsyncEnumerable<SseItem<string>> Events(
        Board board,
        TimeSpan pingInterval,
        TimeProvider time,
        CancellationToken left,
        [EnumeratorCancellation] CancellationToken stopping)
    {
        using var ended = CancellationTokenSource.CreateLinkedTokenSource(left, stopping);
        var items = Channel.CreateBounded<SseItem<string>>(8);
        var changes = PumpChanges(board, items.Writer, ended.Token);
        var pings = PumpPings(pingInterval, time, items.Writer, ended.Token);
        try
        {
            while (await ReadableAsync(items.Reader, ended.Token).ConfigureAwait(false))
            {
                while (items.Reader.TryRead(out var item))
                {
                    yield return item;
                }
            }
        }
        finally
        {
            await ended.CancelAsync().ConfigureAwait(false);
            await Task.WhenAll(changes, pings).ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
        }
    }

    private static async Task<bool> ReadableAsync(ChannelReader<SseItem<string>> reader, CancellationToken ended)
    {
        try
        {
            return await reader.WaitToReadAsync(ended).ConfigureAwait(false);
        }
        catch (OperationCanceledException)
        {
            return false;
        }
    }

    private static async Task PumpChanges(Board board, ChannelWriter<SseItem<string>> items, CancellationToken ended)
    {
        await foreach (var change in board.WatchAsync(ended).ConfigureAwait(false))
        {
            var data = string.Create(CultureInfo.InvariantCulture, $"{change.Topic} {change.Version}");
            await items.WriteAsync(new SseItem<string>(data), ended).ConfigureAwait(false);
        }
    }

    private static async Task PumpPings(TimeSpan interval, TimeProvider time, ChannelWriter<SseItem<string>> items, CancellationToken ended)
    {
        using var timer = new PeriodicTimer(interval, time);
        while (await timer.WaitForNextTickAsync(ended).ConfigureAwait(false))
        {
            await items.WriteAsync(new SseItem<string>("", "ping"), ended).ConfigureAwait(false);
        }
    }
}
