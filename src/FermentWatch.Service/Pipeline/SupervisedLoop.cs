using FermentWatch.Infrastructure.Storage;

namespace FermentWatch.Service.Pipeline;

/// <summary>A background loop that survives its own mistakes: an exception is logged, the loop starts again after a pause.</summary>
/// <remarks>One of the two edges where everything is caught: a fault in one loop must not stop the others.</remarks>
public abstract class SupervisedLoop(TimeProvider clock, ILogger logger) : BackgroundService
{
    private static readonly TimeSpan FirstPause = TimeSpan.FromSeconds(1);
    private static readonly TimeSpan LongestPause = TimeSpan.FromMinutes(1);

    /// <summary>The service's clock.</summary>
    protected TimeProvider Clock { get; } = clock;

    /// <summary>The loop's own log.</summary>
    protected ILogger Logger { get; } = logger;

    /// <summary>Runs until cancelled; returning starts it again.</summary>
    protected abstract Task RunAsync(CancellationToken stoppingToken);

    /// <inheritdoc/>
    protected sealed override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        // The host starts its services one after the other: give the next one its turn.
        await Task.Yield();
        var pause = FirstPause;
        while (!stoppingToken.IsCancellationRequested)
        {
            var began = TimeProvider.System.GetTimestamp();
            try
            {
                await RunAsync(stoppingToken);
            }
            catch (OperationCanceledException) when (stoppingToken.IsCancellationRequested)
            {
                return;
            }
            catch (StorageUnavailableException exception)
            {
                Logger.LogWarning("{Loop} waits for the storage: {Reason}", GetType().Name, exception.Message);
            }
#pragma warning disable CA1031 // The supervising edge: see the remarks of the class.
            catch (Exception exception)
#pragma warning restore CA1031
            {
                Logger.LogError(exception, "{Loop} failed and starts again in {Seconds} s", GetType().Name, pause.TotalSeconds);
            }

            pause = TimeProvider.System.GetElapsedTime(began) > LongestPause ? FirstPause : Min(pause * 2, LongestPause);
            await Task.Delay(pause, CancellationToken.None).WaitAsync(stoppingToken).ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
        }
    }

    private static TimeSpan Min(TimeSpan left, TimeSpan right) => left < right ? left : right;
}
