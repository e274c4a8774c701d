using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Sulfite;

namespace FermentWatch.Monitoring.Gates;

/// <summary>Conditions of sweetening and bottling that stand on the ledger and on what was done to the wine.</summary>
internal static class BottleConditions
{
    /// <summary>
    /// Total sulfur dioxide under the law chosen: from what the journal says was added, as potassium metabisulfite in the volume of its day, and up to
    /// 30 mg/L that yeast forms, or from the last measured total with what was added since.
    /// </summary>
    public static GateCondition TotalSulfite(GateFacts facts)
    {
        var (entries, lines, newest) = (facts.View.Journal.Where(entry => entry.At <= facts.View.Now).ToList(), new List<SulfiteEntry>(), (EventTime?)null);
        for (var i = 0; i < entries.Count; i++)
        {
            var entry = entries[i];
            if (entry.Number("total-sulfite") is { } measured)
            {
                lines.Add(new SulfiteEntry.Measured(MassConcentration.FromMilligramsPerLiter(measured)));
                newest = entry.At;
            }

            if (entry.Number("sulfite") is { } grams)
            {
                if (Ledger.Of(facts.View.Batch, entries.GetRange(0, i + 1)).Volume is not { } volume)
                {
                    return new("total-sulfite", ConditionState.Unknown, Reason.Of("gate-total-no-volume"), entry.At);
                }

                lines.Add(new SulfiteEntry.Added(SulfiteSalt.Potassium.AdditionOf(grams, volume)));
                newest = entry.At;
            }
            else if (entry.Number("added") is { } poured && Ledger.Of(facts.View.Batch, entries.GetRange(0, i)).Volume is { } before)
            {
                // What is poured in without a word about sulfite counts as without: the tolerance of the sum covers the yeast's own.
                lines.Add(new SulfiteEntry.ToppedUp(before, Volume.FromLiters(poured), MassConcentration.FromMilligramsPerLiter(0)));
            }
        }

        var total = SulfiteLedger.Total(lines);
        var limit = SulfiteLimits.Total(facts.Settings.Law, WineColor.Unknown, facts.Measured("sugar-test")?.Number("sugar-test")).MilligramsPerLiter;
        var (low, high) = (total.Value.MilligramsPerLiter, total.Value.MilligramsPerLiter + total.Tolerance);
        return new(
            "total-sulfite",
            high <= limit ? ConditionState.Met : low > limit ? ConditionState.NotMet : ConditionState.Unknown,
            Reason.Of("gate-total-sulfite", new ReasonValue.Figure(low, 0), new ReasonValue.Figure(high, 0), new ReasonValue.Figure(limit, 0)),
            newest);
    }

    /// <summary>Whether gas was driven out lately: wine full of it builds up pressure with no sugar at all.</summary>
    public static GateCondition Degassed(GateFacts facts) => facts.Last(JournalKind.Stirred) is { } stirred && facts.IsFresh(stirred.At)
        ? new("degassed", ConditionState.Met, Reason.Of("gate-degassed", new ReasonValue.Moment(stirred.At)), stirred.At)
        : new("degassed", ConditionState.Unknown, Reason.Of("gate-degassed-unknown", new ReasonValue.Length(facts.Settings.MeasuredWithin)));
}
