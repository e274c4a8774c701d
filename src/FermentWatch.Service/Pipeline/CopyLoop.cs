using FermentWatch.Infrastructure.Influx;
using FermentWatch.Infrastructure.Storage;

namespace FermentWatch.Service.Pipeline;

/// <summary>Keeps the copy of the series up to date. An outage there costs nothing here: the cursor waits on disk.</summary>
public sealed class CopyLoop(Store store, InfluxCopier copier, PipelineSignals signals, TimeProvider clock, ILogger<CopyLoop> logger)
    : SupervisedLoop(clock, logger)
{
    // What comes in meanwhile goes in one request.
    private static readonly TimeSpan Gathering = TimeSpan.FromSeconds(2);
    private static readonly TimeSpan LongestWait = TimeSpan.FromSeconds(15);
    private static readonly TimeSpan SampleEvery = TimeSpan.FromMinutes(1);
    private static readonly TimeSpan LongestPause = TimeSpan.FromMinutes(1);

    private DateTimeOffset _nextSample = DateTimeOffset.MinValue;
    private string? _told;

    /// <inheritdoc/>
    protected override async Task RunAsync(CancellationToken stoppingToken)
    {
        var pause = TimeSpan.FromSeconds(1);
        while (!stoppingToken.IsCancellationRequested)
        {
            var (result, isLast) = await copier.StepAsync(stoppingToken);
            if (result.Trouble is null && isLast && Clock.GetUtcNow() >= _nextSample)
            {
                _nextSample = Clock.GetUtcNow() + SampleEvery;
                await copier.SampleAsync(stoppingToken);
            }

            Tell(result);
            if (result.Trouble is { } trouble)
            {
                await Task.Delay(trouble is WriteOutcome.TryAgain { After: { } after } ? after : pause, stoppingToken);
                pause = pause * 2 < LongestPause ? pause * 2 : LongestPause;
            }
            else
            {
                pause = TimeSpan.FromSeconds(1);
                if (isLast)
                {
                    await signals.Copy.WaitAsync(LongestWait, stoppingToken);
                    await Task.Delay(Gathering, stoppingToken);
                }
            }
        }
    }

    /// <summary>One line when the copy stops, one when it goes on.</summary>
    private void Tell(CopyResult result)
    {
        foreach (var line in result.SetAside)
        {
            Logger.LogWarning("Left out of the copy: {Line}", line);
        }

        var status = copier.Status;
        if (status.Problem is { } problem && _told is null)
        {
            Logger.LogWarning("The copy waits: {Problem}. Nothing is lost: it goes on from where it is, {Waiting} changes behind", problem, store.ReadChangeBacklog().Changes);
            _told = problem;
        }
        else if (status.Problem is null && _told is not null)
        {
            Logger.LogInformation("The copy goes on, {Waiting} changes behind", store.ReadChangeBacklog().Changes);
            _told = null;
        }
    }
}

/// <summary>Nobody keeps a copy: what was noted for one is let go.</summary>
public sealed class NoCopy(Store store) : IHostedService
{
    /// <inheritdoc/>
    public Task StartAsync(CancellationToken cancellationToken) => store.FollowChangesAsync(null, cancellationToken);

    /// <inheritdoc/>
    public Task StopAsync(CancellationToken cancellationToken) => Task.CompletedTask;
}
