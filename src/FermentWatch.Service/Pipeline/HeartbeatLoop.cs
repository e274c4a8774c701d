using FermentWatch.Infrastructure.Notifiers;
using FermentWatch.Service.Configuration;
using FermentWatch.Service.Dashboard;

namespace FermentWatch.Service.Pipeline;

/// <summary>What is known of the watcher outside of the house.</summary>
/// <param name="address">Its address; null when none is set up.</param>
public sealed class Heartbeat(WatcherAddress? address)
{
    /// <summary>Its address; null when none is set up.</summary>
    public WatcherAddress? Address { get; } = address;

    /// <summary>When it last took a sign of life in this run; null before the first.</summary>
    public DateTimeOffset? TakenAt { get; internal set; }
}

/// <summary>
/// Gives a watcher outside of the house a sign of life every five minutes, as long as batches are really looked at: when this program, its
/// machine or its network is gone, or when it only seems to run, the watcher misses it and tells.
/// </summary>
public sealed class HeartbeatLoop(Heartbeat heartbeat, Board board, OutgoingRules outgoing, TimeProvider clock, ILogger<HeartbeatLoop> logger) : SupervisedLoop(clock, logger)
{
    /// <summary>Time between two signs.</summary>
    public static readonly TimeSpan Interval = TimeSpan.FromMinutes(5);

    // Looking at many batches may take long: then soon again.
    private static readonly TimeSpan SoonAgain = TimeSpan.FromSeconds(30);

    private static readonly TimeSpan AnswerWithin = TimeSpan.FromSeconds(10);

    // Until then the first look at the batches is over.
    private static readonly TimeSpan First = TimeSpan.FromSeconds(5);

    /// <inheritdoc/>
    protected override async Task RunAsync(CancellationToken stoppingToken)
    {
        if (heartbeat.Address is not { } address)
        {
            await Task.Delay(Timeout.InfiniteTimeSpan, stoppingToken);
            return;
        }

        using var client = new GuardedHttp("watcher", outgoing, AnswerWithin, Clock);
        await Task.Delay(First, Clock, stoppingToken);
        while (true)
        {
            var isAlive = Clock.GetUtcNow() - board.State.Snapshot.ComputedAt < Interval;
            if (isAlive)
            {
                await BeatAsync(client, address, stoppingToken);
            }
            else
            {
                Logger.LogWarning("No sign of life is given: batches were last looked at {At}", board.State.Snapshot.ComputedAt);
            }

            await Task.Delay(isAlive ? Interval : SoonAgain, Clock, stoppingToken);
        }
    }

    private async Task BeatAsync(GuardedHttp client, WatcherAddress address, CancellationToken stoppingToken)
    {
        var result = await client.SendAsync(() => new HttpRequestMessage(HttpMethod.Get, address.Url), special: null, stoppingToken);
        if (result is DeliveryResult.Delivered)
        {
            heartbeat.TakenAt = Clock.GetUtcNow();
            return;
        }

        var because = result switch
        {
            DeliveryResult.TryAgain again => again.Because.Code,
            DeliveryResult.Refused refused => refused.Because.Code,
            _ => "",
        };
        Logger.LogWarning("The watcher at {Host} took no sign of life ({Reason})", address, because);
    }
}
