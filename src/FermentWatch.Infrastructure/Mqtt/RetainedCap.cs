using System.Collections.Concurrent;
using MQTTnet;

namespace FermentWatch.Infrastructure.Mqtt;

/// <summary>Bounds how many retained messages the embedded broker holds in memory.</summary>
internal sealed class RetainedCap
{
    private const int MostTopics = 1000;

    private readonly ConcurrentDictionary<string, byte> _topics = new(StringComparer.Ordinal);

    /// <summary>True when the message may stay retained; beyond the limit it is passed on live only.</summary>
    public bool Admits(MqttApplicationMessage message)
    {
        if (message.Payload.IsEmpty)
        {
            _topics.TryRemove(message.Topic, out _);
            return true;
        }

        return _topics.ContainsKey(message.Topic) || (_topics.Count < MostTopics && _topics.TryAdd(message.Topic, 0));
    }
}
