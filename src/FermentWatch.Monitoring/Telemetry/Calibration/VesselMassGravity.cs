using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Batches.Cleaning;
using FermentWatch.Oenology.Alcohol;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Monitoring.Telemetry.Calibration;

/// <summary>Gravity from a vessel that stands on a scale.</summary>
/// <param name="Gravity">A reading for each reading of the mass from the yeast on; empty when something is missing.</param>
/// <param name="Missing">What is missing, or null.</param>
/// <param name="Tolerance">Error of the newest value, in specific gravity.</param>
/// <param name="KilogramsLost">Mass lost as gas up to the newest reading. [kg]</param>
/// <param name="Handlings">When something other than gas was taken out or put in; it was left out of the loss.</param>
public sealed record MassGravity(
    IReadOnlyList<Reading> Gravity,
    Reason? Missing,
    double Tolerance,
    double KilogramsLost,
    ValueList<EventTime> Handlings);

/// <summary>Follows the mass of a vessel: what goes slowly is gas, what goes at once is handling.</summary>
public static class VesselMassGravity
{
    // [share of the must's mass] A fast ferment loses about 0.2 % an hour; half a percent is no ferment. Our own choice, no source.
    private const double MostPerHour = 0.005;
    private const double WaterKilogramsPerLiter = 0.9982012;
    private const double LeastStep = 0.002;
    private const double HoursToStart = 24;
    private const int StartReadings = 5;

    // A measurement by hand takes a sample; a note or a move takes nothing.
    private static readonly JournalKind[] Taking = [JournalKind.Racked, JournalKind.SugarAdded, JournalKind.MeasuredByHand, JournalKind.NutrientAdded];

    /// <summary>Gravity from mass.</summary>
    /// <remarks>Between neighbors, a fall faster than gas can leave, any rise of a five-hundredth of the must, and every change across
    /// a journal entry that takes or adds something is handling: the loss before it stands, and it goes on from the new mass.</remarks>
    /// <param name="mass">Mass of the vessel with its contents in kg, in any order.</param>
    /// <param name="batch">Its original gravity and volume are needed.</param>
    /// <param name="journal">The journal, superseded and undone entries included.</param>
    public static MassGravity Of(IReadOnlyList<Reading> mass, Batch batch, IReadOnlyList<JournalEntry> journal)
    {
        ArgumentNullException.ThrowIfNull(mass);
        ArgumentNullException.ThrowIfNull(batch);
        if (batch.OriginalGravity is not { } original)
        {
            return Without("mass-no-original");
        }

        if (batch.Volume is not { Liters: > 0 } volume)
        {
            return Without("mass-no-volume");
        }

        var readings = ReadingFilter.Normalize(mass, batch.Sensors.AsSpan(), new EventTime(long.MaxValue)).Where(reading => reading.At >= batch.InoculatedAt).ToList();
        if (readings.Count == 0 || (readings[0].At - batch.InoculatedAt).TotalHours > HoursToStart)
        {
            return Without("mass-no-start");
        }

        var must = original.Value * WaterKilogramsPerLiter * volume.Liters;
        var entries = JournalReading.Active(journal, new EventTime(long.MaxValue)).Where(entry => Taking.Contains(entry.Kind)).ToList();
        var handlings = new List<EventTime>();
        // One noisy first reading would shift the whole curve.
        var last = Hampel.MedianInPlace(readings.Take(Math.Min(StartReadings, readings.Count)).Select(reading => reading.Value).ToArray());
        var at = readings[0].At;
        // Of the must that is still there: what was racked off ferments no more on this scale.
        var (lostShare, liquid) = (0.0, must);
        var gravity = new List<Reading>();
        Computed<SpecificGravity> present = default;
        foreach (var reading in readings)
        {
            var change = reading.Value - last;
            var hours = (reading.At - at).TotalHours;
            var isTold = entries.Exists(entry => entry.At > at && entry.At <= reading.At);
            if ((isTold && Math.Abs(change) > LeastStep / 4 * must) || change > LeastStep * must || -change > (LeastStep + (MostPerHour * hours)) * must)
            {
                handlings.Add(reading.At);
                liquid = Math.Max(0.05 * must, liquid + change);
            }
            else
            {
                var after = Math.Max(0.05 * must, liquid + change);
                lostShare += Math.Log(liquid / after);
                liquid = after;
            }

            (last, at) = (reading.Value, reading.At);
            present = GravityFromMassLoss.Of(original, volume, LostOf(lostShare) * must);
            gravity.Add(reading with { Value = present.Value.Value, Reach = CalibrationReach.Within });
        }

        return new MassGravity(gravity, null, present.Tolerance, LostOf(lostShare) * must, ValueList.Of<EventTime>(handlings));
    }

    // Each loss was taken from what was left: the shares of the first mass follow from their logarithm.
    private static double LostOf(double sharesOfTheRest) => 1 - Math.Exp(-sharesOfTheRest);

    private static MassGravity Without(string code) => new([], Reason.Of(code), 0, 0, ValueList.Of<EventTime>());
}
