using System.Collections.Concurrent;
using System.Text.Json;
using System.Text.Json.Nodes;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Backtest;

namespace FermentWatch.Service.Pipeline;

/// <summary>What each batch's forecast assumes before any reading: the maker's batches that had ended when it began, kept with it from then on.</summary>
/// <remarks>A batch that ends later changes no forecast of one that runs. One that is first met days after its inoculation keeps the shipped assumptions: its forecast was begun with them.</remarks>
public sealed class PriorBook(Store store)
{
    private const string Prefix = "prior-";
    private static readonly TimeSpan Begins = TimeSpan.FromDays(3);
    private static readonly TimeSpan ShortestFerment = TimeSpan.FromDays(5);

    private readonly ConcurrentDictionary<BatchId, PriorSnapshot> _known = new();

    /// <summary>The assumptions of a batch; the shipped ones before <see cref="PrepareAsync"/> met it.</summary>
    public PriorSnapshot Of(BatchId batch) => _known.GetValueOrDefault(batch, PriorSnapshot.Shipped);

    /// <summary>Sees that every batch has its assumptions kept.</summary>
    /// <param name="batches">All batches.</param>
    /// <param name="settings">What the maker set.</param>
    /// <param name="now">The present.</param>
    /// <param name="cancellationToken">Ends the wait.</param>
    /// <exception cref="StorageUnavailableException">Something could not be kept.</exception>
    public async Task PrepareAsync(IReadOnlyList<Batch> batches, ViewSettings settings, EventTime now, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(batches);
        foreach (var batch in batches.Where(one => !_known.ContainsKey(one.Id) && one.InoculatedAt <= now))
        {
            var name = Prefix + batch.Id.Value;
            var kept = store.ReadProperties(name).GetValueOrDefault(name);
            if (kept is null)
            {
                var finished = now - batch.InoculatedAt <= Begins ? FinishedBefore(batch, batches, settings) : [];
                var json = new JsonObject { [FinishedBatchFields.Name] = FinishedBatchFields.Write(finished) }.ToJsonString();
                kept = await store.KeepPropertyAsync(name, json, cancellationToken);
            }

            _known[batch.Id] = PriorSnapshot.Learn(Parsed(name, kept));
        }
    }

    /// <summary>The finished batches that a batch's forecast rests on; empty where none are kept with it.</summary>
    internal static IReadOnlyList<FinishedBatch> KeptWith(Store store, BatchId batch)
    {
        var name = Prefix + batch.Value;
        return store.ReadProperties(name).TryGetValue(name, out var kept) ? Parsed(name, kept) : [];
    }

    private static List<FinishedBatch> Parsed(string name, string json)
    {
        using var document = JsonDocument.Parse(json);
        return FinishedBatchFields.Read(new JsonFields(name, document.RootElement));
    }

    private List<FinishedBatch> FinishedBefore(Batch batch, IReadOnlyList<Batch> batches, ViewSettings settings) =>
    [
        .. batches
            .Where(one => one.Id != batch.Id && one.Kind == batch.Kind && batch.InoculatedAt - one.InoculatedAt >= ShortestFerment)
            .Select(one => store.ReadBatch(one.Id) is { } snapshot ? FinishedBatches.Of(snapshot.Facts, settings, batch.InoculatedAt) : null)
            .OfType<FinishedBatch>(),
    ];
}
