using System.Text;
using FermentWatch.Infrastructure.Mqtt;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Service.Configuration;

namespace FermentWatch.Service.Access;

/// <summary>Who may do what, as it stands in the store, held in memory: it is asked for every request and every message.</summary>
public sealed class AccessBook
{
    private readonly Store _store;
    private readonly bool _isBrokerBeyondLoopback;
    private volatile State _state;

    /// <summary>Reads the store.</summary>
    public AccessBook(Store store, BrokerSettings broker)
    {
        ArgumentNullException.ThrowIfNull(store);
        ArgumentNullException.ThrowIfNull(broker);
        _store = store;
        _isBrokerBeyondLoopback = !System.Net.IPAddress.IsLoopback(broker.Embedded.Address);
        _state = Read();
        Admission = new BrokerAdmission(Admits, MayPublish);
    }

    /// <summary>True once somebody has a password: then every page asks who is there.</summary>
    public bool IsLocked => _state.IsLocked;

    /// <summary>True while the embedded broker lets in devices alone.</summary>
    public bool BrokerNeedsDevice => _isBrokerBeyondLoopback || _state.BrokerNeedsDevice;

    /// <summary>True when that cannot be switched off, because the embedded broker listens beyond this machine.</summary>
    public bool IsBrokerBeyondLoopback => _isBrokerBeyondLoopback;

    /// <summary>The rules of the embedded broker.</summary>
    public BrokerAdmission Admission { get; }

    /// <summary>Reads the store anew, after a change.</summary>
    public void Renew() => _state = Read();

    /// <summary>The device with this key; null when there is none.</summary>
    public Device? DeviceWith(string key)
    {
        ArgumentNullException.ThrowIfNull(key);
        return _state.ByKey.GetValueOrDefault(Secrets.Hash(key));
    }

    private bool Admits(string? user, byte[]? password)
    {
        if (user is not null && _state.ByName.TryGetValue(user, out var device))
        {
            return Secrets.AreSame(Secrets.Hash(Encoding.UTF8.GetString(password ?? [])), device.KeyHash);
        }

        return !BrokerNeedsDevice;
    }

    private bool MayPublish(string? user, string topic) =>
        user is not null && _state.ByName.TryGetValue(user, out var device)
            ? topic == device.Prefix || topic.StartsWith(device.Prefix + "/", StringComparison.Ordinal)
            : !BrokerNeedsDevice;

    private State Read()
    {
        var devices = _store.ReadDevices();
        return new State(
            _store.ReadPeople().Any(person => person.HasPassword),
            _store.ReadBrokerNeedsDevice(),
            devices.ToDictionary(device => device.Name, StringComparer.Ordinal),
            devices.ToDictionary(device => device.KeyHash, StringComparer.Ordinal));
    }

    private sealed record State(bool IsLocked, bool BrokerNeedsDevice, Dictionary<string, Device> ByName, Dictionary<string, Device> ByKey);
}
