using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting;

/// <summary>Who looks after the cellar while its maker is away. Urgent alerts then go to both.</summary>
/// <param name="From">Begin.</param>
/// <param name="Until">End.</param>
/// <param name="Helpers">Channels of the helper.</param>
public sealed record AwayMode(ReceivedAt From, ReceivedAt Until, ValueList<string> Helpers)
{
    /// <summary>Whether a channel is a helper's now.</summary>
    public bool IsHelper(string channel, ReceivedAt now) => From <= now && now < Until && Helpers.Contains(channel);
}
