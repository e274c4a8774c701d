using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Batches;

/// <summary>The day for which the maker planned a racking.</summary>
internal static class PlannedRacking
{
    /// <summary>When it was planned, and for when; null without a plan or once it was racked since. A later plan without a day, into another vessel, leaves the day.</summary>
    public static (EventTime PlannedAt, EventTime Day)? Of(BatchView view)
    {
        var past = view.Journal.Where(entry => entry.At <= view.Now).ToList();
        return past.LastOrDefault(entry => entry.Kind is JournalKind.RackingPlanned && entry.Number("planned-in") is not null) is { } plan
            && !past.Exists(entry => entry.Kind is JournalKind.Racked && entry.At >= plan.At)
            ? (plan.At, plan.At + TimeSpan.FromDays(plan.Number("planned-in")!.Value))
            : null;
    }
}
