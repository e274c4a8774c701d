using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Batches.Journaling;

/// <summary>Which entries are likely next: the order of the one-tap bar.</summary>
public static class OneTapBar
{
    /// <summary>All kinds, the likely ones first. Common practice, no source.</summary>
    /// <param name="stage">The stage that lasts now.</param>
    /// <param name="phase">What the ferment is doing.</param>
    /// <param name="hasGravitySensor">Whether a sensor measures gravity: else the hand does, and that comes first.</param>
    public static ValueList<JournalKindEntry> Order(BatchStage stage, Phase phase, bool hasGravitySensor)
    {
        JournalKind[] likely = stage switch
        {
            BatchStage.Fermenting when phase is Phase.Flat or Phase.Slowing =>
                [JournalKind.MeasuredByHand, JournalKind.Racked, JournalKind.Stirred, JournalKind.Tasted, JournalKind.Handled, JournalKind.ColdCrash],
            BatchStage.Fermenting when hasGravitySensor =>
                [JournalKind.Stirred, JournalKind.NutrientAdded, JournalKind.MeasuredByHand, JournalKind.Smell, JournalKind.Handled, JournalKind.SugarAdded],
            BatchStage.Fermenting =>
                [JournalKind.MeasuredByHand, JournalKind.Stirred, JournalKind.NutrientAdded, JournalKind.Smell, JournalKind.Handled, JournalKind.SugarAdded],
            BatchStage.Malolactic =>
                [JournalKind.MeasuredByHand, JournalKind.MalolacticFinished, JournalKind.Stirred, JournalKind.Smell, JournalKind.ToppedUp, JournalKind.Tasted],
            BatchStage.ColdCrash =>
                [JournalKind.Racked, JournalKind.Clarity, JournalKind.Fined, JournalKind.MeasuredByHand, JournalKind.Moved, JournalKind.Stabilized],
            BatchStage.Aging =>
                [JournalKind.MeasuredByHand, JournalKind.Tasted, JournalKind.ToppedUp, JournalKind.Racked, JournalKind.Clarity, JournalKind.Stabilized],
            BatchStage.SweetenedWatch =>
                [JournalKind.MeasuredByHand, JournalKind.Tasted, JournalKind.Clarity, JournalKind.Bottled, JournalKind.Moved, JournalKind.Handled],
            _ => [JournalKind.BottleChecked, JournalKind.Tasted, JournalKind.Note, JournalKind.MeasuredByHand, JournalKind.Clarity, JournalKind.Moved, JournalKind.Bottled],
        };
        return ValueList.Of(likely.Select(JournalCatalog.Of).Concat(JournalCatalog.All.Where(entry => !likely.Contains(entry.Kind))));
    }

    /// <summary>How many of the order stand in the bar itself; the others stand behind them.</summary>
    public const int Shown = 6;
}
