using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Monitoring.Batches.Journaling;

/// <summary>What a batch is going through, as the journal tells. Stored by number: never renumber.</summary>
public enum BatchStage
{
    /// <summary>The yeast works.</summary>
    Fermenting = 1,

    /// <summary>Malolactic fermentation.</summary>
    Malolactic = 2,

    /// <summary>Kept cold to clear.</summary>
    ColdCrash = 3,

    /// <summary>Aging in bulk.</summary>
    Aging = 4,

    /// <summary>Sweetened, and watched for refermentation.</summary>
    SweetenedWatch = 5,

    /// <summary>In bottles, and watched for refermentation.</summary>
    BottledWatch = 6,
}

/// <summary>A stretch of a batch's life.</summary>
/// <param name="Stage">Which stage.</param>
/// <param name="From">When it began.</param>
/// <param name="Because">The journal entry that began it; null for the inoculation as the batch tells it.</param>
public sealed record StageSpan(BatchStage Stage, EventTime From, long? Because);

/// <summary>Reads the stages of a batch and their temperature bands off its journal.</summary>
public static class Stages
{
    /// <summary>The stages in time order; the first is fermenting, from the inoculation on, and the last one lasts.</summary>
    /// <remarks>A journal entry that does not change the stage begins no new stretch.</remarks>
    /// <param name="batch">The batch.</param>
    /// <param name="active">Entries that count, by time: see <see cref="JournalReading.Active"/>.</param>
    public static ValueList<StageSpan> Of(Batch batch, IReadOnlyList<JournalEntry> active)
    {
        ArgumentNullException.ThrowIfNull(batch);
        ArgumentNullException.ThrowIfNull(active);
        var spans = new List<StageSpan> { new(BatchStage.Fermenting, batch.InoculatedAt, null) };
        var isStabilized = false;
        foreach (var entry in active)
        {
            if (entry.At < batch.InoculatedAt)
            {
                continue;
            }

            isStabilized |= entry.Kind == JournalKind.Stabilized;
            var next = After(spans[^1].Stage, entry, isStabilized);
            if (next != spans[^1].Stage)
            {
                spans.Add(new StageSpan(next, entry.At, entry.Id));
            }
        }

        return ValueList.Of<StageSpan>(spans);
    }

    /// <summary>The temperature band of a stage, or null where none is watched.</summary>
    /// <remarks>The yeast's own band while it ferments; else the one that the maker set for the stage, or <see cref="UsualBand"/>.</remarks>
    public static TemperatureBand? BandOf(Batch batch, BatchStage stage)
    {
        ArgumentNullException.ThrowIfNull(batch);
        if (batch.StageHandling == StageHandling.YeastBandOnly)
        {
            return batch.TemperatureBand;
        }

        foreach (var set in batch.StageBands)
        {
            if (set.Stage == stage && stage != BatchStage.Fermenting)
            {
                return set.Band;
            }
        }

        return UsualBand(stage) ?? batch.TemperatureBand;
    }

    /// <summary>The band of a stage for which the maker set none; null for fermenting, where the yeast decides.</summary>
    /// <remarks>Common practice, no source: malolactic bacteria 18 to 22 °C, cold crash -2 to 6 °C, aging 8 to 20 °C, bottles 6 to 22 °C.
    /// After sweetening 18 °C or more, where a refermentation would show.</remarks>
    public static TemperatureBand? UsualBand(BatchStage stage) => stage switch
    {
        BatchStage.Malolactic => Band(18, 22),
        BatchStage.ColdCrash => Band(-2, 6),
        BatchStage.Aging => Band(8, 20),
        BatchStage.SweetenedWatch => Band(18, 26),
        BatchStage.BottledWatch => Band(6, 22),
        _ => null,
    };

    /// <summary>Bands over time; empty where the batch's own one holds throughout.</summary>
    public static ValueList<BandSpan> Bands(Batch batch, ValueList<StageSpan> stages)
    {
        ArgumentNullException.ThrowIfNull(batch);
        ArgumentNullException.ThrowIfNull(stages);
        var spans = new List<BandSpan>();
        if (stages.Count > 1 && batch.StageHandling == StageHandling.ByStage)
        {
            for (var i = 0; i < stages.Count; i++)
            {
                spans.Add(new BandSpan(
                    i == 0 ? null : stages[i].From, i + 1 < stages.Count ? stages[i + 1].From : null, BandOf(batch, stages[i].Stage)));
            }
        }

        return ValueList.Of<BandSpan>(spans);
    }

    private static BatchStage After(BatchStage stage, JournalEntry entry, bool isStabilized) => entry.Kind switch
    {
        JournalKind.Inoculated or JournalKind.Repitched => BatchStage.Fermenting,
        JournalKind.SugarAdded when !isStabilized => BatchStage.Fermenting,
        JournalKind.MalolacticStarted => BatchStage.Malolactic,
        JournalKind.MalolacticFinished => BatchStage.Aging,
        JournalKind.ColdCrash => BatchStage.ColdCrash,
        JournalKind.Racked when stage == BatchStage.ColdCrash || entry.Word("next") == "ages" => BatchStage.Aging,
        JournalKind.Stabilized => BatchStage.Aging,
        JournalKind.Sweetened => BatchStage.SweetenedWatch,
        JournalKind.Bottled => BatchStage.BottledWatch,
        _ => stage,
    };

    private static TemperatureBand Band(double low, double high) => new(Temperature.FromCelsius(low), Temperature.FromCelsius(high));
}
