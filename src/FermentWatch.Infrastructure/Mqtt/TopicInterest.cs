using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Infrastructure.Mqtt;

/// <summary>Which topics somebody mapped to readings: what to subscribe to, and what to record.</summary>
public sealed class TopicInterest
{
    /// <summary>First level of every topic of our own.</summary>
    internal const string OwnRoot = "fermentwatch";

    /// <summary>Below it stand the notices that we publish.</summary>
    internal const string NoticeRoot = OwnRoot + "/notices";

    private const string EchoLevel = "echo";

    private readonly Func<string, bool> _isMapped;
    private volatile IReadOnlyList<string> _filters;
    private volatile TaskCompletionSource _changed = new(TaskCreationOptions.RunContinuationsAsynchronously);

    /// <summary>Builds from the mapped topic filters and the rule that matches a topic against them.</summary>
    /// <param name="filters">Topic filters as MQTT 5 section 4.7 defines them. One that another covers is left out of <see cref="SubscriptionFilters"/>.</param>
    /// <param name="isMapped">True for a topic that at least one of the filters matches.</param>
    public TopicInterest(IEnumerable<string> filters, Func<string, bool> isMapped)
    {
        ArgumentNullException.ThrowIfNull(filters);
        ArgumentNullException.ThrowIfNull(isMapped);
        _isMapped = isMapped;
        _filters = WithoutCovered([.. filters.Distinct(StringComparer.Ordinal)]);
    }

    /// <summary>Builds from the filters of the mappings.</summary>
    public static TopicInterest Of(IEnumerable<TopicFilter> filters)
    {
        List<TopicFilter> all = [.. filters];
        return new TopicInterest(all.Select(filter => filter.Text), topic => all.Any(filter => filter.Matches(topic)));
    }

    /// <summary>
    /// The filters to subscribe to. A broker may deliver one message once per matching subscription,
    /// and each delivery would look like a reading of its own, so no filter here covers another.
    /// </summary>
    public IReadOnlyList<string> SubscriptionFilters => _filters;

    /// <summary>Completes when <see cref="SubscriptionFilters"/> are replaced next.</summary>
    public Task NextChange => _changed.Task;

    /// <summary>Mappings came or went: takes over their filters. Which topics are recorded is asked anew for every message.</summary>
    public void Replace(IEnumerable<string> filters)
    {
        ArgumentNullException.ThrowIfNull(filters);
        _filters = WithoutCovered([.. filters.Distinct(StringComparer.Ordinal)]);
        Interlocked.Exchange(ref _changed, new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously)).TrySetResult();
    }

    /// <summary>True for a topic to record. A topic of our own is never one, however wide the filters are.</summary>
    public bool IsMapped(string topic) => !IsOwn(topic) && _isMapped(topic);

    /// <summary>The topic on which a client sends itself a message to prove that its subscriptions work.</summary>
    internal static string EchoOf(string clientId) => $"{OwnRoot}/{clientId}/{EchoLevel}";

    /// <summary>True for the echo topic, the states and the notices of this or any other installation: never a sensor's.</summary>
    internal static bool IsOwn(string topic) =>
        topic.StartsWith(OwnRoot + "/", StringComparison.Ordinal)
        && (topic.EndsWith("/" + EchoLevel, StringComparison.Ordinal) || topic.StartsWith(NoticeRoot + "/", StringComparison.Ordinal) || StateTopics.IsState(topic));

    /// <summary>True when every topic that <paramref name="narrow"/> matches is matched by <paramref name="wide"/> too.</summary>
    internal static bool Covers(string wide, string narrow)
    {
        var wideLevels = wide.Split('/');
        var narrowLevels = narrow.Split('/');
        for (var i = 0; i < wideLevels.Length; i++)
        {
            // A leading wildcard does not match topics whose first level begins with a dollar sign.
            if (i == 0 && wideLevels[0] is "#" or "+" && narrowLevels[0].StartsWith('$'))
            {
                return false;
            }

            if (wideLevels[i] == "#")
            {
                return true;
            }

            if (i >= narrowLevels.Length || narrowLevels[i] == "#" || (wideLevels[i] != "+" && wideLevels[i] != narrowLevels[i]))
            {
                return false;
            }
        }

        return wideLevels.Length == narrowLevels.Length;
    }

    private static List<string> WithoutCovered(string[] filters) =>
        [.. filters.Where(narrow => !filters.Any(wide => wide != narrow && Covers(wide, narrow)))];
}
