using System.Collections.Concurrent;
using System.Text.Json;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Service.Pipeline;

/// <summary>The limits and holds of alerts that batches have of their own.</summary>
public sealed class LimitBook(Store store, AlertSettings settings)
{
    private const string Prefix = "limits-";

    private readonly ConcurrentDictionary<BatchId, ValueList<OwnLimit>> _known = new();

    /// <summary>The settings of all batches, with which a batch's own are compared.</summary>
    public AlertSettings OfAll => settings;

    /// <summary>A batch's own limits.</summary>
    public ValueList<OwnLimit> Of(BatchId batch) => _known.GetOrAdd(batch, id =>
        store.ReadProperties(Prefix + id.Value).TryGetValue(Prefix + id.Value, out var json) && JsonSerializer.Deserialize<Dictionary<string, double>>(json) is { } read
            ? ValueList.Of(read.Where(one => AlertLimitCatalog.Find(one.Key) is not null).Select(one => new OwnLimit(one.Key, one.Value)))
            : ValueList.Of<OwnLimit>());

    /// <summary>Keeps a batch's own limits; they count from the next pass on.</summary>
    /// <exception cref="StorageUnavailableException">Nothing was kept.</exception>
    public async Task KeepAsync(BatchId batch, ValueList<OwnLimit> own, CancellationToken cancellationToken)
    {
        var json = own.Count == 0 ? null : JsonSerializer.Serialize(own.ToDictionary(one => one.Name, one => one.Value));
        await store.WritePropertiesAsync(new Dictionary<string, string?> { [Prefix + batch.Value] = json }, cancellationToken);
        _known[batch] = own;
    }
}
