namespace FermentWatch.Infrastructure.Mqtt;

/// <summary>Which version of the protocol to speak.</summary>
public enum MqttVersionChoice
{
    /// <summary>MQTT 5, and 3.1.1 with a broker that does not know it.</summary>
    Automatic,

    /// <summary>MQTT 5 only.</summary>
    Version5,

    /// <summary>MQTT 3.1.1 only.</summary>
    Version311,
}

/// <summary>How to reach a broker that runs elsewhere.</summary>
public sealed record ExternalBrokerOptions
{
    /// <summary>Host name or address.</summary>
    public required string Host { get; init; }

    /// <summary>TCP port, 1 to 65535. Default 1883; brokers usually take TLS on 8883.</summary>
    public int Port { get; init; } = 1883;

    /// <summary>
    /// Name under which the broker keeps our messages while we are away. Must stay the same over restarts and be ours alone.
    /// 1 to 65,535 bytes; some brokers take only 23 letters and digits.
    /// </summary>
    public required string ClientId { get; init; }

    /// <summary>User name; null (the default) to give none.</summary>
    public string? UserName { get; init; }

    /// <summary>Password that goes with <see cref="UserName"/>.</summary>
    public string? Password { get; init; }

    /// <summary>Whether to encrypt. Default no.</summary>
    public bool UseTls { get; init; }

    /// <summary>PEM file with the certificate authority that signed the broker's certificate; null (the default) trusts those of the system.</summary>
    public string? AuthorityFile { get; init; }

    /// <summary>The same certificates as PEM text, beside or instead of <see cref="AuthorityFile"/>; null (the default) for none.</summary>
    public string? AuthorityText { get; init; }

    /// <summary>Version of the protocol. Default: 5, falling back to 3.1.1.</summary>
    public MqttVersionChoice Version { get; init; } = MqttVersionChoice.Automatic;

    /// <summary>How often the broker is asked whether it is still there. Default 30 s, range 1 s to 5 min. A dead link is noticed within 1.5 times that.</summary>
    public TimeSpan KeepAlive { get; init; } = TimeSpan.FromSeconds(30);

    /// <summary>How long one step of connecting may take. Default 10 s, range 1 s to 1 min.</summary>
    public TimeSpan StepTimeout { get; init; } = TimeSpan.FromSeconds(10);

    /// <summary>How long the broker is asked to keep our messages while we are away (MQTT 5; others have their own rule). Default 7 days.</summary>
    public TimeSpan SessionExpiry { get; init; } = TimeSpan.FromDays(7);

    /// <summary>Most messages received and not yet on disk, 1 to 1,000. Default 64.</summary>
    public ushort ReceiveMaximum { get; init; } = 64;

    /// <summary>Shortest wait before connecting again. Default 1 s.</summary>
    public TimeSpan ShortestWait { get; init; } = TimeSpan.FromSeconds(1);

    /// <summary>Longest wait before connecting again. Default 60 s.</summary>
    public TimeSpan LongestWait { get; init; } = TimeSpan.FromSeconds(60);

    /// <summary>Whether the broker is to forget the session when we leave: for listening only. Default no.</summary>
    public bool CleanSession { get; init; }

    /// <summary>Without the password.</summary>
    public override string ToString() => $"{ClientId} at {Host}:{Port}";
}
