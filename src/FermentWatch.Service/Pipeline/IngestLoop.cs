using FermentWatch.Infrastructure.Storage;

namespace FermentWatch.Service.Pipeline;

/// <summary>Turns recorded messages into readings, in order, each once. What it has done stands in the store's cursor.</summary>
public sealed class IngestLoop(Store store, MessageReading reading, PipelineSignals signals, TimeProvider clock, ILogger<IngestLoop> logger)
    : SupervisedLoop(clock, logger)
{
    // A signal can be lost by a restart between commit and signal; then the messages wait no longer than this.
    private static readonly TimeSpan LongestWait = TimeSpan.FromSeconds(5);

    /// <inheritdoc/>
    protected override async Task RunAsync(CancellationToken stoppingToken)
    {
        var before = -1L;
        while (!stoppingToken.IsCancellationRequested)
        {
            var waiting = store.ReadUndecoded();
            if (waiting.UpTo == before)
            {
                await signals.Inbox.WaitAsync(LongestWait, stoppingToken);
                before = -1;
                continue;
            }

            before = await TakeInAsync(waiting, stoppingToken);
        }
    }

    private async Task<long> TakeInAsync(UndecodedMessages waiting, CancellationToken stoppingToken)
    {
        var report = await CommitAsync(waiting, stoppingToken);
        if (report.Batches.Count > 0)
        {
            signals.Touch(report.Batches);
        }

        return report.UpTo;
    }

    private async Task<DecodeReport> CommitAsync(UndecodedMessages waiting, CancellationToken stoppingToken)
    {
        await signals.Mappings.WaitAsync(stoppingToken);
        try
        {
            return await store.CommitDecodedAsync([.. waiting.Messages.Select(reading.Read)], waiting.UpTo, stoppingToken);
        }
        finally
        {
            signals.Mappings.Release();
        }
    }
}
