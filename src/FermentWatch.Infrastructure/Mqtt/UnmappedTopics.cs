using System.Buffers;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Infrastructure.Mqtt;

/// <summary>The last message on a topic that no mapping names.</summary>
/// <param name="Topic">Full topic.</param>
/// <param name="Payload">The bytes: all of them up to 8 kB; of a longer message the first 256.</param>
/// <param name="Size">Size of the payload as it was sent, in bytes.</param>
/// <param name="ReceivedAt">When it came.</param>
/// <param name="Count">How many messages came on this topic since it entered the list.</param>
public sealed record UnmappedTopic(string Topic, ReadOnlyMemory<byte> Payload, int Size, ReceivedAt ReceivedAt, long Count)
{
    /// <summary>The last messages, newest first, this one among them; at most <see cref="UnmappedTopics.Recent"/>.</summary>
    public IReadOnlyList<HeardMessage> Recent { get; init; } = [];

    /// <summary>Usual time between two messages: the median over <see cref="Recent"/>; null before the second.</summary>
    public TimeSpan? Interval
    {
        get
        {
            var gaps = Recent.Zip(Recent.Skip(1), (later, earlier) => later.ReceivedAt - earlier.ReceivedAt).Order().ToList();
            return gaps.Count == 0 ? null : gaps[gaps.Count / 2];
        }
    }
}

/// <summary>A message that was heard and not recorded.</summary>
/// <param name="Payload">As of <see cref="UnmappedTopic"/>.</param>
/// <param name="ReceivedAt">When it came.</param>
/// <param name="WasKept">True when a broker had kept it from before and gave it to us because we came: nobody knows how old it is.</param>
public sealed record HeardMessage(ReadOnlyMemory<byte> Payload, ReceivedAt ReceivedAt, bool WasKept = false);

/// <summary>
/// Topics that devices publish and nobody mapped yet, in memory only: at most 200, each forgotten after 24 h without a message.
/// </summary>
public sealed class UnmappedTopics
{
    /// <summary>Longest list.</summary>
    public const int Capacity = 200;

    /// <summary>How many messages of a topic are remembered.</summary>
    public const int Recent = 5;

    /// <summary>Longest topic that enters the list, in characters; a longer one is only counted.</summary>
    public const int LongestTopic = 1024;

    private static readonly TimeSpan Lifetime = TimeSpan.FromHours(24);

    private readonly Lock _lock = new();
    private readonly Dictionary<string, UnmappedTopic> _topics = new(StringComparer.Ordinal);
    private long _messages;

    /// <summary>Messages on unmapped topics since the start.</summary>
    public long Messages => Interlocked.Read(ref _messages);

    /// <summary>The list, most recent first.</summary>
    public IReadOnlyList<UnmappedTopic> Snapshot(ReceivedAt now)
    {
        lock (_lock)
        {
            return [.. _topics.Values.Where(topic => now - topic.ReceivedAt <= Lifetime).OrderByDescending(topic => topic.ReceivedAt)];
        }
    }

    internal void Note(string topic, ReadOnlySequence<byte> payload, ReceivedAt at, bool wasKept = false)
    {
        Interlocked.Increment(ref _messages);
        if (topic.Length > LongestTopic)
        {
            return;
        }

        var kept = InboundGuard.Keep(payload);
        lock (_lock)
        {
            var count = _topics.TryGetValue(topic, out var was) ? was.Count + 1 : 1;
            if (count == 1 && _topics.Count >= Capacity)
            {
                MakeRoom(at);
            }

            var earlier = was?.Recent ?? [];
            _topics[topic] = new UnmappedTopic(topic, kept, (int)payload.Length, at, count)
            {
                Recent = [new HeardMessage(kept, at, wasKept), .. earlier.Take(Recent - 1)],
            };
        }
    }

    // A flood of one-off topics pushes out other one-offs before it pushes out a sensor that reports again and again.
    private void MakeRoom(ReceivedAt now)
    {
        var leaving = _topics.Values
            .OrderBy(topic => now - topic.ReceivedAt <= Lifetime)
            .ThenBy(topic => topic.Count)
            .ThenBy(topic => topic.ReceivedAt)
            .First();
        _topics.Remove(leaving.Topic);
    }
}
