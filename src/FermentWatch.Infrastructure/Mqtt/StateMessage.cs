namespace FermentWatch.Infrastructure.Mqtt;

/// <summary>A state of ours that is told at the broker and kept there for whoever comes later.</summary>
/// <param name="Topic">Below <see cref="StateTopics.Root"/>.</param>
/// <param name="Payload">What is told; empty takes back what was told before.</param>
public sealed record StateMessage(string Topic, byte[] Payload);

/// <summary>Topics of states: our own, and never taken for readings however wide somebody maps.</summary>
public static class StateTopics
{
    /// <summary>Begin of every such topic.</summary>
    public const string Root = TopicInterest.OwnRoot + "/state";

    /// <summary>The topic of something that is said about a batch.</summary>
    /// <param name="site">The site's word, which tells services at one broker apart.</param>
    /// <param name="batch">Key of the batch.</param>
    /// <param name="what">Such as <c>phase</c>.</param>
    public static string Of(string site, string batch, string what) => $"{Root}/{site}/{batch}/{what}";

    /// <summary>Whether a topic is one of this or any other installation.</summary>
    public static bool IsState(string topic)
    {
        ArgumentNullException.ThrowIfNull(topic);
        return topic.StartsWith(Root + "/", StringComparison.Ordinal);
    }
}
