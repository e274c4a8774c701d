using System.Security.Cryptography;
using System.Text.Json;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Service.Configuration;
using Microsoft.AspNetCore.DataProtection;

namespace FermentWatch.Service.Pipeline;

/// <summary>Which broker holds: that of the configuration where it names one, else the one chosen on the page. Safe to use from any thread.</summary>
/// <remarks>The password is kept encrypted under the key ring of the data directory, and nowhere in the clear.</remarks>
public sealed class BrokerChoice
{
    private const string Property = "broker";
    private const string ClientIdProperty = "broker-client-id";
    private const string Purpose = "FermentWatch.Broker.Password";

    private readonly BrokerSettings _configured;
    private readonly Store _store;
    private readonly IDataProtector _protector;
    private volatile BrokerSettings _now;

    /// <summary>Reads what was chosen.</summary>
    public BrokerChoice(BrokerSettings configured, ServiceIdentity identity, Store store, IDataProtectionProvider protection)
    {
        ArgumentNullException.ThrowIfNull(configured);
        ArgumentNullException.ThrowIfNull(identity);
        ArgumentNullException.ThrowIfNull(store);
        (_configured, _store) = (configured, store);
        _protector = protection.CreateProtector(Purpose);
        IsDemo = identity.IsDemo;
        _now = configured;
        if (!IsFixed && store.ReadProperties(Property).GetValueOrDefault(Property) is { } kept)
        {
            _now = configured with { Mode = BrokerMode.External, External = Read(kept) };
        }
    }

    /// <summary>True in the demo, which publishes to its own broker only.</summary>
    public bool IsDemo { get; }

    /// <summary>True when the page cannot change the broker.</summary>
    public bool IsFixed => IsDemo || _configured.IsGiven;

    /// <summary>What holds now.</summary>
    public BrokerSettings Now => _now;

    /// <summary>True when a password was kept that cannot be read any more, because the key ring is another one: it must be typed again.</summary>
    public bool IsPasswordLost { get; private set; }

    /// <summary>The settings as they would be with another choice; null for the embedded broker.</summary>
    public BrokerSettings With(ExternalBrokerSettings? external) =>
        _configured with { Mode = external is null ? BrokerMode.Embedded : BrokerMode.External, External = external };

    /// <summary>Our name at an external broker: kept from the first time on, so that it keeps messages for us.</summary>
    /// <exception cref="StorageUnavailableException">It could not be kept.</exception>
    public async Task<string> ClientIdAsync(ExternalBrokerSettings external, CancellationToken cancellationToken) =>
        (external ?? throw new ArgumentNullException(nameof(external))).ClientId
        ?? await _store.KeepPropertyAsync(ClientIdProperty, "fermentwatch-" + Guid.NewGuid().ToString("N")[..10], cancellationToken);

    /// <summary>Keeps another choice; <see cref="BrokerLink.SwitchAsync"/> makes it hold.</summary>
    /// <exception cref="StorageUnavailableException">Nothing was kept, and the choice before holds.</exception>
    public async Task KeepAsync(ExternalBrokerSettings? external, CancellationToken cancellationToken)
    {
        await _store.WritePropertiesAsync(new Dictionary<string, string?> { [Property] = external is null ? null : Write(external) }, cancellationToken);
        IsPasswordLost = false;
        _now = With(external);
    }

    private string Write(ExternalBrokerSettings external) => JsonSerializer.Serialize(new Kept(
        external.Host,
        external.Port,
        external.User,
        external.Password is { } password ? _protector.Protect(password) : null,
        external.UseTls,
        external.AuthorityText));

    private ExternalBrokerSettings Read(string text)
    {
        var kept = JsonSerializer.Deserialize<Kept>(text)!;
        return new ExternalBrokerSettings(kept.Host, kept.Port, kept.User, Unprotected(kept.Password), kept.Tls, null, null) { AuthorityText = kept.Authority };
    }

    private string? Unprotected(string? kept)
    {
        try
        {
            return kept is null ? null : _protector.Unprotect(kept);
        }
        catch (CryptographicException)
        {
            IsPasswordLost = true;
            return null;
        }
    }

    private sealed record Kept(string Host, int Port, string? User, string? Password, bool Tls, string? Authority);
}
