using FermentWatch.Service.Dashboard.Preferences;

namespace FermentWatch.Service.Pipeline;

/// <summary>Sends each channel its monthly test, by day.</summary>
public sealed class MonthlyTestLoop(ChannelCare care, PreferenceBook preferences, TimeProvider clock, ILogger<MonthlyTestLoop> logger) : SupervisedLoop(clock, logger)
{
    private const int EarliestHour = 10;
    private const int LatestHour = 19;

    private static readonly TimeSpan Interval = TimeSpan.FromMinutes(30);

    /// <inheritdoc/>
    protected override async Task RunAsync(CancellationToken stoppingToken)
    {
        while (!stoppingToken.IsCancellationRequested)
        {
            // A board without a clock of its own starts in 1970 until the network tells it the time.
            var local = TimeZoneInfo.ConvertTime(Clock.GetUtcNow(), preferences.Present.Zone);
            if (local.Hour is >= EarliestHour and <= LatestHour && local.Year >= MonitorLoop.EarliestTrustedYear)
            {
                await care.TestAsync(stoppingToken);
            }

            await Task.Delay(Interval, Clock, stoppingToken);
        }
    }
}
