using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting.Services;

/// <summary>How the service itself is, read once a pass.</summary>
/// <param name="IsBrokerUp">Whether messages can reach us.</param>
/// <param name="LastMessageAt">When one last did; null when none ever did.</param>
/// <param name="Space">Room where the data lies; null when it can't be read.</param>
/// <param name="AreWritesFailing">Whether the store cannot write.</param>
/// <param name="Backup">The newest backup; null where none is to be watched.</param>
/// <param name="Channels">How each channel fares.</param>
public sealed record ServiceFacts(
    bool IsBrokerUp,
    ReceivedAt? LastMessageAt,
    DiskSpace? Space,
    bool AreWritesFailing,
    BackupFact? Backup,
    ValueList<ChannelFact> Channels);

/// <summary>Room on the disk. [bytes]</summary>
public readonly record struct DiskSpace(long Free, long Total);

/// <summary>The newest backup.</summary>
/// <param name="MadeAt">When it was made; null for none so far.</param>
/// <param name="Since">From when on one was to be expected: when the data began.</param>
/// <param name="IsSound">False when the last try to make one failed, or the copy did not pass its comparison.</param>
public sealed record BackupFact(ReceivedAt? MadeAt, ReceivedAt Since, bool IsSound = true);

/// <summary>How a channel of notices fares since its last success.</summary>
/// <param name="Channel">Name of the channel.</param>
/// <param name="Failures">Attempts that failed.</param>
/// <param name="FailingSince">When the oldest notice that could not be delivered was queued; null when none failed.</param>
public sealed record ChannelFact(string Channel, int Failures, ReceivedAt? FailingSince);

/// <summary>When the service itself is an alert. Figures are common practice, no source.</summary>
public sealed record ServiceLimits
{
    /// <summary>How long the broker must be gone.</summary>
    public TimeSpan BrokerOnDelay { get; init; } = TimeSpan.FromMinutes(5);

    /// <summary>How long it must be back.</summary>
    public TimeSpan BrokerOffDelay { get; init; } = TimeSpan.FromMinutes(2);

    /// <summary>In quiet hours a lost broker is told only after this.</summary>
    public TimeSpan BrokerHeldAtNight { get; init; } = TimeSpan.FromHours(2);

    /// <summary>Share of the disk that must stay free, 0 to 1.</summary>
    public double LeastFreeShare { get; init; } = 0.10;

    /// <summary>Room that must stay free. [bytes]</summary>
    public long LeastFreeBytes { get; init; } = 200_000_000;

    /// <summary>How long writes must fail.</summary>
    public TimeSpan WritesOnDelay { get; init; } = TimeSpan.FromSeconds(60);

    /// <summary>How long space or backup must be amiss, and all of storage must be well again.</summary>
    public TimeSpan StorageDelay { get; init; } = TimeSpan.FromMinutes(10);

    /// <summary>An older backup is an alert.</summary>
    public TimeSpan OldestBackup { get; init; } = TimeSpan.FromHours(48);

    /// <summary>Failures in a row that make a channel fail.</summary>
    public int ChannelFailures { get; init; } = 3;

    /// <summary>Time of failing that does as well.</summary>
    public TimeSpan ChannelFailingFor { get; init; } = TimeSpan.FromMinutes(15);
}
