using System.Text.Json;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Personal;

namespace FermentWatch.Service.Dashboard.Help;

/// <summary>Who helps, as the store keeps it. People by their number; 0 for nobody.</summary>
public sealed record HelpWishes
{
    /// <summary>Begin of the maker's absence, in microseconds since 1970; null while nobody is away.</summary>
    public long? AwayFrom { get; init; }

    /// <summary>Its end.</summary>
    public long? AwayUntil { get; init; }

    /// <summary>Who looks after the cellar meanwhile.</summary>
    public long Helper { get; init; }

    /// <summary>Who hears of an urgent alert that nobody took on for an hour.</summary>
    public long Second { get; init; }
}

/// <summary>Keeps who helps and tells the monitor.</summary>
public sealed class HelpBook(Store store)
{
    private const string Name = "help-wishes";

    /// <summary>As it counts now.</summary>
    public HelpWishes Present => store.ReadProperties(Name).TryGetValue(Name, out var json) ? JsonSerializer.Deserialize<HelpWishes>(json) ?? new() : new();

    /// <summary>Keeps it; it counts from the next pass on.</summary>
    /// <exception cref="StorageUnavailableException">Nothing was kept.</exception>
    public Task KeepAsync(HelpWishes wishes, CancellationToken cancellationToken) =>
        store.WritePropertiesAsync(new Dictionary<string, string?> { [Name] = JsonSerializer.Serialize(wishes) }, cancellationToken);

    /// <summary>The settings with who helps.</summary>
    /// <param name="settings">As they are without.</param>
    public AlertSettings In(AlertSettings settings)
    {
        ArgumentNullException.ThrowIfNull(settings);
        var wishes = Present;
        return settings with
        {
            Away = wishes is { AwayFrom: { } from, AwayUntil: { } until }
                ? new AwayMode(new ReceivedAt(from), new ReceivedAt(until), ChannelsOf(wishes.Helper, settings))
                : null,
            Seconds = ChannelsOf(wishes.Second, settings),
        };
    }

    private static ValueList<string> ChannelsOf(long person, AlertSettings settings) => ValueList.Of(
        settings.Personal.Select(listener => listener.Name).Where(name => person != 0 && name.StartsWith(WishBook.PrefixOf(person), StringComparison.Ordinal)));
}
