using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting.Inhibitions;

/// <summary>One reason for which an alert that stands is not told: an entry of <see cref="InhibitionCatalog"/>.</summary>
/// <remarks>The alert lives on meanwhile. When the inhibition ends, it is told if it still stands and was not told before.</remarks>
/// <param name="Id">Lower-case words joined by hyphens.</param>
/// <param name="Silences">Ids of the rules whose alerts it holds back.</param>
/// <param name="Of">What holds an alert of these rules back now, or null.</param>
public sealed record Inhibition(string Id, ValueList<string> Silences, Func<TrackedAlert, InhibitionFacts, Held?> Of);

/// <summary>What an inhibition looks at.</summary>
/// <param name="View">The batch as its facts show it now.</param>
/// <param name="Alerts">The batch's alerts, with what became of each in this pass.</param>
/// <param name="Settings">Limits and delays.</param>
/// <param name="Pass">The present.</param>
public sealed record InhibitionFacts(BatchView View, ValueList<TrackedAlert> Alerts, AlertSettings Settings, Pass Pass)
{
    /// <summary>The first alert of any of these rules that stands, or null.</summary>
    public TrackedAlert? Standing(params ReadOnlySpan<string> rules)
    {
        foreach (var alert in Alerts)
        {
            if (alert.Standing is AlertStanding.Raised && rules.Contains(alert.Rule))
            {
                return alert;
            }
        }

        return null;
    }
}

/// <summary>Why an alert is held back. Without running numbers, so that it changes only when the reason does.</summary>
/// <param name="Because">The reason as the page shows it.</param>
/// <param name="Into">Key of the alert whose notice tells of it as well; null when nothing does.</param>
public sealed record Held(Reason Because, string? Into = null);
