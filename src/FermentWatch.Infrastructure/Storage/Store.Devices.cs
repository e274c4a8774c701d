using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>Devices that may send readings.</summary>
public sealed partial class Store
{
    private const string BrokerNeedsDevice = "broker-needs-device";

    /// <summary>All devices, by name.</summary>
    public IReadOnlyList<Device> ReadDevices() => _reads.Read(read => read.Statement("SELECT id, name, key, prefix, created FROM device ORDER BY name")
        .List(row => new Device(row.GetInt64(0), row.GetString(1), row.GetString(2), row.GetString(3), new ReceivedAt(row.GetInt64(4)))));

    /// <summary>Adds a device. False when the name is taken.</summary>
    /// <exception cref="StorageUnavailableException">Nothing was written.</exception>
    public Task<bool> AddDeviceAsync(string name, string keyHash, string prefix, CancellationToken cancellationToken) => WriteAsync(
        connection => connection.Statement("INSERT INTO device (name, key, prefix, created) VALUES (?1, ?2, ?3, ?4) ON CONFLICT (name) DO NOTHING")
            .Run(name, keyHash, prefix, Now) == 1,
        cancellationToken);

    /// <summary>Gives a device a new key; the one before counts no more.</summary>
    /// <exception cref="StorageUnavailableException">Nothing was written.</exception>
    public Task RenewDeviceKeyAsync(long device, string keyHash, CancellationToken cancellationToken) => WriteAsync(
        connection => connection.Statement("UPDATE device SET key = ?2 WHERE id = ?1").Run(device, keyHash), cancellationToken);

    /// <summary>Removes a device; its readings stay.</summary>
    /// <exception cref="StorageUnavailableException">Nothing was written.</exception>
    public Task RemoveDeviceAsync(long device, CancellationToken cancellationToken) => WriteAsync(
        connection => connection.Statement("DELETE FROM device WHERE id = ?1").Run(device), cancellationToken);

    /// <summary>Whether the embedded broker lets in devices alone, on loopback too.</summary>
    public bool ReadBrokerNeedsDevice() => _reads.Read(read =>
        read.Statement("SELECT value FROM property WHERE name = ?1").Text(BrokerNeedsDevice) == "yes");

    /// <summary>Says whether the embedded broker lets in devices alone, on loopback too.</summary>
    /// <exception cref="StorageUnavailableException">Nothing was written.</exception>
    public Task SetBrokerNeedsDeviceAsync(bool needed, CancellationToken cancellationToken) => WriteAsync(
        connection => connection.Statement("INSERT INTO property (name, value) VALUES (?1, ?2) ON CONFLICT (name) DO UPDATE SET value = excluded.value")
            .Run(BrokerNeedsDevice, needed ? "yes" : "no"),
        cancellationToken);

    /// <summary>Records messages in one transaction: all of them, or none.</summary>
    /// <exception cref="StorageUnavailableException">None is on disk.</exception>
    public Task RecordTogetherAsync(IReadOnlyList<InboundMessage> messages, CancellationToken cancellationToken)
    {
        var ready = messages.Select(message => (Message: message, Kept: InboxWriter.Kept(message))).ToList();
        return WriteAsync(
            connection =>
            {
                foreach (var (message, kept) in ready)
                {
                    InboxWriter.Record(connection, message, kept, InboxWriter.Hash(kept, Math.Max(message.Size, message.Payload.Length)));
                }

                return ready.Count;
            },
            cancellationToken);
    }
}
