using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Monitoring.Gates;

namespace FermentWatch.Service.Dashboard.Gates;

/// <summary>Entries of the journal that a gate's conditions stand on and that are written seldom elsewhere: offered at the gate itself.</summary>
internal static class GateActs
{
    /// <summary>The kinds, in the order in which they are offered.</summary>
    public static IReadOnlyList<JournalKindEntry> Of(GateKind kind, BottlePath? path)
    {
        JournalKind[] kinds = (kind, path) switch
        {
            (GateKind.Rack, _) => [JournalKind.RackingPlanned],
            (GateKind.Stabilize, _) => [JournalKind.MalolacticPrevented],
            (GateKind.Sweeten, _) => [JournalKind.TrialDeclined, JournalKind.PathChosen],
            (_, BottlePath.PasteurizedOrFiltered) => [JournalKind.PathChosen, JournalKind.Pasteurized, JournalKind.SterileFiltered],
            (_, BottlePath.KeptCold or BottlePath.BottleConditioned) => [JournalKind.PathChosen],
            _ => [],
        };
        return [.. kinds.Select(JournalCatalog.Of)];
    }
}
