using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting;

/// <summary>The one summary of what was over before we learned of it.</summary>
internal static class PastNotice
{
    public static NoticeWords Words(IReadOnlyList<(BatchView View, AlertTransition Transition)> past)
    {
        var alerts = past.Select(part => part.Transition.Alert).ToList();
        var isOne = alerts.Count == 1;
        var count = new ReasonValue.Count(alerts.Count);
        return new NoticeWords(
            Reason.Of(isOne ? "title-past-one" : "title-past", new ReasonValue.Name(past[0].View.Batch.Name), count),
            ValueList.Of(
                Reason.Of(
                    isOne ? "past-one" : "past",
                    count,
                    new ReasonValue.Moment(alerts.Min(alert => alert.BeganAt)),
                    new ReasonValue.Moment(alerts.Max(alert => alert.ClearedAt ?? alert.RaisedAt))),
                Reason.Of("nothing-to-do")));
    }
}
