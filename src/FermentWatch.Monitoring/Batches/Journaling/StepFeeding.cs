using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Blending;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Sweetening;

namespace FermentWatch.Monitoring.Batches.Journaling;

/// <summary>Sugar that was added on the way, as points of original gravity.</summary>
/// <param name="At">When.</param>
/// <param name="Points">By how much the must would have been heavier had the sugar been in it from the start. [points]</param>
public readonly record struct Feeding(EventTime At, double Points);

/// <summary>Computes what step feeding adds to the original gravity.</summary>
public static class StepFeeding
{
    // Common practice, no source: a kilogram of sugar takes up about 0.62 L once dissolved, of honey about 0.70.
    private const double LitersPerKilogramOfSugar = 0.62;
    private const double LitersPerKilogramOfHoney = 0.70;
    private const double AssumedPoints = 90;

    /// <summary>Volume that a kilogram takes up in the must. [L/kg]</summary>
    /// <param name="sweetener">A choice of the catalogue's field of that name; null for sugar.</param>
    public static double LitersPerKilogram(string? sweetener) => sweetener == "honey" ? LitersPerKilogramOfHoney : LitersPerKilogramOfSugar;

    /// <summary>Every addition of sugar with an amount, in time order.</summary>
    /// <remarks>
    /// <para><b>Equation.</b> Must so far and what was fed, added by mass (<see cref="Liquid"/>): the feeding's points are those of the
    /// sum less those of the must.</para>
    /// <para><b>Valid.</b> With the batch's volume told; without it there is none. A batch without original gravity is taken for 90 points,
    /// which moves the result by less than a tenth. <b>Error.</b> 1 % for sugar, 3 % for honey of another water. <b>Check.</b> LedgerTests.</para>
    /// </remarks>
    public static IReadOnlyList<Feeding> Of(Batch batch, IReadOnlyList<JournalEntry> active)
    {
        ArgumentNullException.ThrowIfNull(batch);
        ArgumentNullException.ThrowIfNull(active);
        var feedings = new List<Feeding>();
        if (batch.Volume?.Liters is not { } liters)
        {
            return feedings;
        }

        var points = batch.OriginalGravity?.Points ?? AssumedPoints;
        foreach (var entry in active)
        {
            if (entry.Kind == JournalKind.SugarAdded && entry.Number("kilograms") is { } kilograms && entry.At >= batch.InoculatedAt)
            {
                var fed = Liquid.OfMust(Volume.FromLiters(liters), SpecificGravity.FromPoints(points)) + Liquid.Solids(kilograms, ExtractIn(entry.Word("sweetener")));
                var sum = fed.Gravity.Points;
                feedings.Add(new Feeding(entry.At, sum - points));
                (points, liters) = (sum, fed.Volume.Liters);
            }
            else if (entry.Number("volume") is { } measured)
            {
                liters = measured;
            }
            else if (entry.Number("added") is { } added)
            {
                liters += added;
            }
            else if (entry.Number("sample") is { } milliliters && liters > milliliters / 1000)
            {
                liters -= milliliters / 1000;
            }
        }

        return feedings;
    }

    private static double ExtractIn(string? sweetener) => Sweetener.Of(sweetener == "honey" ? SweetenerKind.Honey : SweetenerKind.Sucrose).ExtractFraction;
}
