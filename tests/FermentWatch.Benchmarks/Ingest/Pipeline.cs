using FermentWatch.Infrastructure.Mqtt;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Pipeline;
using Microsoft.Extensions.Logging.Abstractions;

namespace FermentWatch.Benchmarks.Ingest;

/// <summary>Store and decoder as in the service: a message is recorded, acknowledged, and becomes a reading.</summary>
internal sealed class Pipeline : IAsyncDisposable
{
    private static readonly TopicMapping Mapping = new(
        "{1}",
        TopicFilter.Parse("cellar/+/sg"),
        ValueList.Of<FieldMapping>(new FieldMapping(null, QuantityKind.Gravity, MeasurementUnit.SpecificGravity)),
        time: null);

    private readonly string _folder = Directory.CreateTempSubdirectory("fermentwatch-bench-").FullName;
    private readonly PipelineSignals _signals = new();
    private readonly IngestLoop _ingest;

    public Pipeline()
    {
        Store = Store.Open(new StoreOptions(_folder), TimeProvider.System, NullLogger<Store>.Instance);
        _ingest = new IngestLoop(Store, new MessageReading(() => [Mapping]), _signals, TimeProvider.System, NullLogger<IngestLoop>.Instance);
    }

    public static TopicInterest Interest { get; } = TopicInterest.Of([Mapping.Filter]);

    public Store Store { get; }

    public Task StartAsync() => _ingest.StartAsync(CancellationToken.None);

    public async ValueTask<InboxReceipt> RecordAsync(InboundMessage message, CancellationToken cancellationToken)
    {
        var receipt = await Store.RecordAsync(message, cancellationToken);
        _signals.Inbox.Set();
        return receipt;
    }

    /// <summary>True once everything recorded was decoded.</summary>
    public bool IsDecodedUpTo(long sequence) => Store.ReadUndecoded() is { Messages.Count: 0 } waiting && waiting.UpTo >= sequence;

    public async ValueTask DisposeAsync()
    {
        await _ingest.StopAsync(CancellationToken.None);
        _ingest.Dispose();
        await Store.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }
}
