using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting;

/// <summary>Brings what a rule on ticks found into the set: one standing alert at most for each subject.</summary>
internal static class TickReconciliation
{
    public static AlertSet Apply(
        TickResult result,
        string rule,
        BatchId batch,
        EventTime now,
        Dictionary<string, AlertEpisode> episodes,
        Dictionary<string, Reason> ended)
    {
        var number = result.Now.NextNumber;
        var alerts = result.Now.Alerts.ToList();
        foreach (var episode in result.Standing)
        {
            var index = alerts.FindIndex(alert => alert.Rule == rule && alert.Subject == episode.Subject && alert.Standing is AlertStanding.Raised);
            if (index < 0)
            {
                alerts.Add(AlertHistory.New(episode, batch, number++, AlertStanding.Raised));
                index = alerts.Count - 1;
            }
            else if (episode.Severity > alerts[index].Severity)
            {
                alerts[index] = alerts[index] with { Severity = episode.Severity };
            }

            episodes[alerts[index].Key] = episode;
        }

        var over = alerts.Where(alert => alert.Rule == rule && alert.Standing is AlertStanding.Raised && !episodes.ContainsKey(alert.Key)).ToList();
        foreach (var alert in over)
        {
            alerts[alerts.IndexOf(alert)] = alert with { Standing = AlertStanding.Cleared, ClearedAt = now };
            if (result.Ended.TryGetValue(alert.Subject, out var why))
            {
                ended[alert.Key] = why;
            }
        }

        return result.Now with { Alerts = ValueList.Of(alerts), NextNumber = number };
    }
}
