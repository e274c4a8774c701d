namespace FermentWatch.Service.Pipeline;

/// <summary>Sends what is due in the outbox. At least once: a kill between the channel's answer and our note of it sends again, under the same key.</summary>
public sealed class DeliveryLoop(OutboxDelivery delivery, PipelineSignals signals, MonitorPace pace, TimeProvider clock, ILogger<DeliveryLoop> logger)
    : SupervisedLoop(clock, logger)
{
    private bool _isReleased;

    /// <inheritdoc/>
    protected override async Task RunAsync(CancellationToken stoppingToken)
    {
        if (!_isReleased)
        {
            await delivery.ReleaseAsync(stoppingToken);
            _isReleased = true;
        }

        while (!stoppingToken.IsCancellationRequested)
        {
            if (await delivery.SendDueAsync(stoppingToken) == 0)
            {
                await signals.Outbox.WaitAsync(pace.Shortest, stoppingToken);
            }
        }
    }
}
