using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Service.Pipeline;

/// <summary>Which topics the listening list is about, as chosen on the page. Safe to use from any thread.</summary>
public sealed class ListeningScope
{
    private const string Property = "listening-filter";

    private readonly Store _store;
    private volatile TopicFilter _filter;

    /// <summary>Reads what was chosen.</summary>
    public ListeningScope(Store store)
    {
        ArgumentNullException.ThrowIfNull(store);
        _store = store;
        _filter = store.ReadProperties(Property).GetValueOrDefault(Property) is { } kept && TopicFilter.TryParse(kept, out var filter, out _) ? filter : Every;
    }

    /// <summary>Every topic.</summary>
    public static TopicFilter Every { get; } = TopicFilter.Parse("#");

    /// <summary>The filter; every topic where none was chosen.</summary>
    public TopicFilter Filter => _filter;

    /// <summary>Keeps another one; it holds from the next look on.</summary>
    /// <exception cref="StorageUnavailableException">Nothing was changed.</exception>
    public async Task KeepAsync(TopicFilter filter, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(filter);
        await _store.WritePropertiesAsync(new Dictionary<string, string?> { [Property] = filter.Text == Every.Text ? null : filter.Text }, cancellationToken);
        _filter = filter;
    }
}
