using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting;

/// <summary>When the forecast lets the next part of nutrient fall due, where gravity tells it.</summary>
/// <param name="PlannedAt">When the plan was written down.</param>
/// <param name="Part">The part.</param>
/// <param name="When">When.</param>
public sealed record NutrientDate(EventTime PlannedAt, PlannedPart Part, NutrientRange When);

/// <summary>The times of a <see cref="NutrientDate"/>.</summary>
/// <param name="Middle">As many ways on get there earlier as later.</param>
/// <param name="Early">One way in twenty is there earlier.</param>
/// <param name="Late">One way in twenty is there later; null where more than that may never get there.</param>
/// <param name="IsReached">Whether the mark is reached; the times are then those at which that was seen.</param>
public sealed record NutrientRange(EventTime Middle, EventTime Early, EventTime? Late, bool IsReached)
{
    // A new forecast comes with each reading: what moves by less is no news for a calendar. Common practice, no source.
    private static readonly TimeSpan Least = TimeSpan.FromHours(3);

    private const double ShareOfTheWait = 0.25;

    /// <summary>
    /// What a calendar shall show: what it showed before, until the date has moved by more than three hours and by more than a quarter of the wait, lies outside the
    /// range that was shown, or is reached.
    /// </summary>
    /// <param name="shown">What it showed; null for nothing yet.</param>
    /// <param name="now">The present.</param>
    public NutrientRange Steady(NutrientRange? shown, EventTime now)
    {
        if (shown is null || shown.IsReached != IsReached)
        {
            // A date that has come is not moved to the moment at which the mark is seen.
            return shown is { IsReached: false } && shown.Middle <= now && IsReached ? shown with { IsReached = true } : this;
        }

        var moved = (Middle - shown.Middle).Duration();
        var isWithin = Middle >= shown.Early && (shown.Late is not { } late || Middle <= late);
        var isNews = !IsReached && moved > Least && (!isWithin || moved > (shown.Middle - now).Duration() * ShareOfTheWait);
        return isNews ? this : shown;
    }
}
