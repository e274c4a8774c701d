using System.Globalization;
using System.Security.Cryptography;
using System.Text.Json;
using FermentWatch.Infrastructure.Notifiers;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Telemetry;
using Microsoft.AspNetCore.DataProtection;

namespace FermentWatch.Service.Personal;

/// <summary>Everybody's wishes and channels. Addresses and tokens lie in the store encrypted with the keys beside it, and leave it only to be used.</summary>
public sealed class WishBook : IDisposable
{
    private const string Prefix = "wishes-";

    private readonly Store _store;
    private readonly IDataProtector _protector;
    private readonly Dictionary<string, (string Sealed, Role Role, INotifier Notifier)> _built = new(StringComparer.Ordinal);
    private readonly Lock _building = new();

    /// <summary>Reads and keeps wishes in a store.</summary>
    public WishBook(Store store, IDataProtectionProvider protection, ChannelHouse house)
    {
        ArgumentNullException.ThrowIfNull(protection);
        (_store, House) = (store, house);
        _protector = protection.CreateProtector("FermentWatch.Personal.Channels.1");
    }

    /// <summary>What the house has that channels need.</summary>
    public ChannelHouse House { get; }

    /// <summary>Name of a person's channel of a kind.</summary>
    public static string ChannelOf(Person person, PersonalChannelKind kind)
    {
        ArgumentNullException.ThrowIfNull(person);
        ArgumentNullException.ThrowIfNull(kind);
        return PrefixOf(person.Id) + kind.Id;
    }

    /// <summary>Begin of the names of a person's channels.</summary>
    public static string PrefixOf(long person) => string.Create(CultureInfo.InvariantCulture, $"person-{person}-");

    /// <summary>A person's wishes; null while none were kept.</summary>
    public NoticeWishes? Of(Person person)
    {
        ArgumentNullException.ThrowIfNull(person);
        return _store.ReadProperties(NameOf(person)).TryGetValue(NameOf(person), out var json) ? JsonSerializer.Deserialize<NoticeWishes>(json) : null;
    }

    /// <summary>Keeps a person's wishes; they count from the next pass on.</summary>
    /// <exception cref="StorageUnavailableException">Nothing was kept.</exception>
    public Task KeepAsync(Person person, NoticeWishes wishes, CancellationToken cancellationToken) =>
        _store.WritePropertiesAsync(new Dictionary<string, string?> { [NameOf(person)] = JsonSerializer.Serialize(wishes) }, cancellationToken);

    /// <summary>Encrypts what a channel needs.</summary>
    public string Seal(IReadOnlyDictionary<string, string> values) => _protector.Protect(JsonSerializer.Serialize(values));

    /// <summary>What a person's channel was given; null when there is none, or the keys with which it was encrypted are lost.</summary>
    public IReadOnlyDictionary<string, string>? Values(NoticeWishes? wishes, PersonalChannelKind kind)
    {
        ArgumentNullException.ThrowIfNull(kind);
        try
        {
            return wishes is not null && wishes.Channels.TryGetValue(kind.Id, out var text)
                ? JsonSerializer.Deserialize<Dictionary<string, string>>(_protector.Unprotect(text))
                : null;
        }
        catch (CryptographicException)
        {
            return null;
        }
    }

    /// <summary>Everybody who listens now: those who may sign in, through each channel that they set up and that can be read.</summary>
    public ValueList<PersonalChannel> Listeners()
    {
        var kept = _store.ReadProperties(Prefix);
        return kept.Count == 0
            ? ValueList.Of<PersonalChannel>()
            : ValueList.Of(
                from person in _store.ReadPeople()
                where !person.IsDisabled && kept.ContainsKey(NameOf(person))
                let wishes = Of(person)
                from kind in PersonalChannelCatalog.All
                where kind.IsOffered(House) && Values(wishes, kind) is not null
                select wishes.Listener(ChannelOf(person, kind)));
    }

    /// <summary>Units, decimal mark and zone that the owner of a channel chose; empty where it is nobody's own, or as in the house.</summary>
    public IReadOnlyDictionary<string, string> OwnOf(string channel)
    {
        ArgumentNullException.ThrowIfNull(channel);
        var owner = _store.ReadPeople().FirstOrDefault(person => channel.StartsWith(PrefixOf(person.Id), StringComparison.Ordinal));
        return owner is not null && Of(owner) is { } wishes ? wishes.Own : new Dictionary<string, string>();
    }

    /// <summary>A person's channel by its name; null when there is none (any more).</summary>
    public INotifier? Find(string channel)
    {
        var owned = from person in _store.ReadPeople()
                    where !person.IsDisabled
                    from kind in PersonalChannelCatalog.All
                    where ChannelOf(person, kind) == channel
                    select (person, kind);
        foreach (var (person, kind) in owned)
        {
            return Build(person, kind);
        }

        return null;
    }

    /// <summary>A person's channel of a kind; null when it is not set up, or cannot be.</summary>
    public INotifier? Build(Person person, PersonalChannelKind kind)
    {
        ArgumentNullException.ThrowIfNull(person);
        ArgumentNullException.ThrowIfNull(kind);
        var wishes = Of(person);
        if (!kind.IsOffered(House) || Values(wishes, kind) is not { } values)
        {
            return null;
        }

        lock (_building)
        {
            var (name, text) = (ChannelOf(person, kind), wishes!.Channels[kind.Id]);
            if (!_built.TryGetValue(name, out var built) || built.Sealed != text || built.Role != person.Role)
            {
                // The one before may still be sending: it goes with its last delivery.
                built = _built[name] = (text, person.Role, kind.Build(name, values, person, House));
            }

            return built.Notifier;
        }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        foreach (var (_, _, notifier) in _built.Values)
        {
            (notifier as IDisposable)?.Dispose();
        }
    }

    private static string NameOf(Person person) => string.Create(CultureInfo.InvariantCulture, $"{Prefix}{person.Id}.");
}
