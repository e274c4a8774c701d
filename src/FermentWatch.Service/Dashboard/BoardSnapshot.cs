using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Service.Dashboard;

/// <summary>An alert that was raised and not cleared, as the pages show it.</summary>
/// <param name="Rule">Id of the rule, such as <c>temperature-band</c>.</param>
/// <param name="Subject">What it is about: a sensor's name, or the batch key.</param>
/// <param name="Severity">How much it asks.</param>
/// <param name="RaisedAt">When it was raised.</param>
/// <param name="Because">Evidence with its numbers.</param>
public sealed record OpenAlert(string Rule, string Subject, Severity Severity, DateTimeOffset RaisedAt, Reason Because)
{
    /// <summary>Key under which something can be said about it; empty where nothing can.</summary>
    public string Key { get; init; } = "";

    /// <summary>When somebody said to be on it, or that it is wrong; null while nobody did.</summary>
    public DateTimeOffset? AcknowledgedAt { get; init; }

    /// <summary>Until when it is quiet; null when it is not snoozed.</summary>
    public DateTimeOffset? SnoozedUntil { get; init; }

    /// <summary>When somebody said that it is wrong; null while nobody did.</summary>
    public DateTimeOffset? DisputedAt { get; init; }

    /// <summary>What keeps it silent now; null when nothing does.</summary>
    public Reason? Held { get; init; }
}

/// <summary>One batch on the board.</summary>
/// <param name="View">All that is said about it.</param>
/// <param name="Alerts">Its open alerts.</param>
public sealed record BoardEntry(BatchView View, ValueList<OpenAlert> Alerts);

/// <summary>A message that could not be read and was kept.</summary>
/// <param name="Topic">Full topic.</param>
/// <param name="FirstBytes">Its first bytes as text; what is not text is shown as a replacement mark.</param>
/// <param name="Size">Size on the wire in bytes.</param>
/// <param name="ReceivedAt">Arrival on our clock.</param>
/// <param name="Because">Why it could not be read.</param>
public sealed record RejectedMessage(string Topic, string FirstBytes, int Size, DateTimeOffset ReceivedAt, Reason Because);

/// <summary>Counts of messages over the life of the store.</summary>
/// <param name="Received">Messages on mapped topics.</param>
/// <param name="Stored">Of these, messages that gave at least one reading.</param>
/// <param name="Rejected">Messages kept that gave none.</param>
/// <param name="Duplicates">Redeliveries of messages already recorded; not counted as received.</param>
public readonly record struct MessageCounts(long Received, long Stored, long Rejected, long Duplicates);

/// <summary>How the service itself is.</summary>
/// <param name="Broker">State of the broker in words, such as the reason <c>broker-listening</c> with its address.</param>
/// <param name="BrokerUp">Whether messages can reach us now.</param>
/// <param name="LastMessageAt">When the newest message on a mapped topic arrived; null when none ever did.</param>
/// <param name="Messages">Counts.</param>
/// <param name="Rejected">The newest messages that could not be read, newest first.</param>
public sealed record ServiceStatus(
    Reason Broker,
    bool BrokerUp,
    DateTimeOffset? LastMessageAt,
    MessageCounts Messages,
    ValueList<RejectedMessage> Rejected)
{
    /// <summary>Alerts about the service itself that stand: broker, storage, channels.</summary>
    public ValueList<OpenAlert> Alerts { get; init; } = ValueList.Of<OpenAlert>();
}

/// <summary>Everything that the pages show, at one moment.</summary>
/// <param name="Entries">The batches, in the order of the book.</param>
/// <param name="Status">The service itself.</param>
/// <param name="IsDemo">Whether the data is of the invented cellar.</param>
/// <param name="ComputedAt">When this was computed, on our clock.</param>
public sealed record BoardSnapshot(ValueList<BoardEntry> Entries, ServiceStatus Status, bool IsDemo, DateTimeOffset ComputedAt)
{
    /// <summary>The batch with this key, or null.</summary>
    public BoardEntry? Find(string key) => Entries.FirstOrDefault(entry => entry.View.Batch.Id.Value == key);
}
