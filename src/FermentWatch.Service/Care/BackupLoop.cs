using FermentWatch.Infrastructure.Storage;
using FermentWatch.Service.Pipeline;

namespace FermentWatch.Service.Care;

/// <summary>Makes a backup whenever the newest one is old enough. One line in the log for each, and one when it begins to fail.</summary>
public sealed class BackupLoop(BackupDesk desk, TimeProvider clock, ILogger<BackupLoop> logger) : SupervisedLoop(clock, logger)
{
    // A machine that is switched on for an hour a day has its backup too, and a start is not slowed by one.
    private static readonly TimeSpan Look = TimeSpan.FromMinutes(10);

    /// <inheritdoc/>
    protected override async Task RunAsync(CancellationToken stoppingToken)
    {
        while (!stoppingToken.IsCancellationRequested)
        {
            await Task.Delay(desk.Settings.IsScheduled ? Look : Timeout.InfiniteTimeSpan, stoppingToken);
            if (!desk.IsDue(Clock.GetUtcNow()))
            {
                continue;
            }

            var failed = desk.Problem is not null;
            try
            {
                var report = await desk.MakeAsync(stoppingToken);
                Logger.LogInformation("Backup {Path}: {Rows} rows, compared", report.Path, report.Rows);
            }
            catch (BackupException failure) when (failed)
            {
                Logger.LogDebug("The backup still fails: {Reason}", failure.Message);
            }
            catch (BackupException failure)
            {
                Logger.LogWarning("The backup failed: {Reason}", failure.Message);
            }
        }
    }
}
