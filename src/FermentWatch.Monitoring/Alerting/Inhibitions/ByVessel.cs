using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting.Inhibitions;

/// <summary>Inhibitions by what the maker does to the vessel. Figures are common practice, no source.</summary>
internal static class ByVessel
{
    // A change of the room takes a while to reach the liquid.
    private static readonly TimeSpan Lag = TimeSpan.FromHours(1);

    private const double NoiseCelsius = 0.1;

    public static Held? Work(TrackedAlert alert, InhibitionFacts facts) =>
        facts.View.WorkingUntil is { } until && facts.View.IsWorking ? new Held(Reason.Of("held-by-work", new ReasonValue.Moment(until))) : null;

    /// <summary>Racking, feeding and fresh yeast stir up the ferment: what it does then says nothing for a day.</summary>
    public static Held? Stirred(TrackedAlert alert, InhibitionFacts facts)
    {
        EventTime? last = null;
        foreach (var entry in facts.View.Journal)
        {
            last = entry.Kind is JournalKind.Racked or JournalKind.NutrientAdded or JournalKind.Repitched or JournalKind.SugarAdded && entry.At <= facts.View.Now
                ? entry.At
                : last;
        }

        return last is { } at && facts.View.Now - at < facts.Settings.Stuck.AfterHandling
            ? new Held(Reason.Of("held-after-handling", new ReasonValue.Moment(at + facts.Settings.Stuck.AfterHandling)))
            : null;
    }

    /// <summary>Somebody saw to the temperature, and since then it moves the right way.</summary>
    public static Held? Recovering(TrackedAlert alert, InhibitionFacts facts)
    {
        var view = facts.View;
        var handled = view.Journal.LastOrDefault(entry => entry.Kind is JournalKind.Handled or JournalKind.Moved && entry.At <= view.Now);
        if (handled is null || view.LatestTemperature is not { } latest || view.Now - handled.At >= facts.Settings.TemperatureBand.AfterHandled)
        {
            return null;
        }

        var wanted = alert.Because.Code == "temperature-above-band" ? -1 : 1;
        var sinceHandled = wanted * (latest.Value.Celsius - CelsiusAt(view, handled.At));
        var sinceLately = wanted * (latest.Value.Celsius - CelsiusAt(view, latest.At - Lag));
        var isRightWay = view.Now - handled.At <= Lag || (sinceHandled > NoiseCelsius && sinceLately >= -NoiseCelsius);
        return isRightWay ? new Held(Reason.Of("held-after-handled", new ReasonValue.Moment(handled.At))) : null;
    }

    /// <summary>The newest temperature at or before a moment; the oldest where there is none.</summary>
    private static double CelsiusAt(BatchView view, EventTime at)
    {
        var celsius = view.Temperature.Count > 0 ? view.Temperature[0].Temperature.Celsius : double.NaN;
        foreach (var point in view.Temperature)
        {
            celsius = point.At <= at ? point.Temperature.Celsius : celsius;
        }

        return celsius;
    }
}
