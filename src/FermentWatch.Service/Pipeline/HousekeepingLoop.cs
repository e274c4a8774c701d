using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Dashboard.Preferences;

namespace FermentWatch.Service.Pipeline;

/// <summary>Prunes raw messages that are older or more than the maker wants to keep, and the log of old notices. Readings stay.</summary>
public sealed class HousekeepingLoop(Store store, PreferenceBook preferences, TimeProvider clock, ILogger<HousekeepingLoop> logger) : SupervisedLoop(clock, logger)
{
    private static readonly TimeSpan Interval = TimeSpan.FromHours(1);

    // Long enough to tell a season of notices from the next.
    private static readonly TimeSpan NoticesKept = TimeSpan.FromDays(200);

    /// <inheritdoc/>
    protected override async Task RunAsync(CancellationToken stoppingToken)
    {
        while (!stoppingToken.IsCancellationRequested)
        {
            await Task.Delay(Interval, stoppingToken);
            var limits = preferences.Present;
            var pruned = await store.PruneAsync(TimeSpan.FromDays(limits.InboxDays), limits.InboxMegabytes * 1_000_000L, stoppingToken);
            if (pruned > 0)
            {
                Logger.LogInformation("Pruned {Count} raw messages; their readings stay", pruned);
            }

            await store.PruneOutboxAsync(ReceivedAt.From(Clock.GetUtcNow()), NoticesKept, stoppingToken);
        }
    }
}
