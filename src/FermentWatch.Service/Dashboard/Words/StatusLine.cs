using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Alerting.Services;
using Microsoft.AspNetCore.Components;

namespace FermentWatch.Service.Dashboard.Words;

/// <summary>The line on top of the book. 'All' is said only when every vessel was heard: silence is not all clear.</summary>
public static class StatusLine
{
    private const int MostNames = 3;

    /// <summary>What is known, what is not, and how many alerts are open.</summary>
    public static MarkupString Of(BoardSnapshot snapshot, Reader reader)
    {
        ArgumentNullException.ThrowIfNull(snapshot);
        var unheard = snapshot.Entries.Where(entry => Hearing.Of(entry.View, snapshot.ComputedAt) is { } hearing && (hearing.IsLate || !hearing.HasSensors)).ToList();
        var service = snapshot.Status.Alerts;
        var alerts = snapshot.Entries.Sum(entry => entry.Alerts.Count);
        var parts = new List<string>();
        if (!snapshot.Status.BrokerUp)
        {
            parts.Add(PageText.Markup("status-broker", ReasonWords.Of(snapshot.Status.Broker, reader)).Value);
        }

        var total = snapshot.Entries.Count;
        if (unheard.Count == 0)
        {
            var key = (total == 1 ? "status-one-heard" : "status-all-heard") + (alerts + service.Count == 0 ? "-calm" : "");
            parts.Add(PageText.Markup(key, Figures.Count(total)).Value);
        }
        else
        {
            // One more name takes no more room than 'and 1 more'.
            var named = unheard.Count <= MostNames + 1 ? unheard.Count : MostNames;
            var names = string.Join(", ", unheard.Take(named).Select(entry => entry.View.Batch.Name));
            parts.Add(PageText.Markup("status-some-heard", Figures.Count(total - unheard.Count), Figures.Count(total)).Value);
            parts.Add((named == unheard.Count ? PageText.Markup("status-not-known", names) : PageText.Markup("status-not-known-more", names, Figures.Count(unheard.Count - named))).Value);
        }

        if (alerts > 0)
        {
            parts.Add(PageText.Encode(PageText.Counted("status-alerts", alerts)));
        }

        // A lost broker has its own words already.
        foreach (var alert in service.Where(alert => snapshot.Status.BrokerUp || alert.Rule != BrokerLostRule.Id))
        {
            parts.Add(PageText.Markup("status-service", ReasonWords.Of(alert.Because, reader)).Value);
        }

        return new MarkupString(string.Join(' ', parts));
    }

    /// <summary>The grade of an alert as a word.</summary>
    public static string Grade(Severity severity) => severity switch
    {
        Severity.Urgent => PageText.Of("grade-urgent"),
        Severity.Warning => PageText.Of("grade-warning"),
        Severity.Action => PageText.Of("grade-action"),
        _ => PageText.Of("grade-info"),
    };
}
