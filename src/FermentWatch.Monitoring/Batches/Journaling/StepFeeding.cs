using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Density;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Monitoring.Batches.Journaling;

/// <summary>Sugar that was added on the way, as points of original gravity.</summary>
/// <param name="At">When.</param>
/// <param name="Points">By how much the must would have been heavier had the sugar been in it from the start. [points]</param>
public readonly record struct Feeding(EventTime At, double Points);

/// <summary>Computes what step feeding adds to the original gravity.</summary>
public static class StepFeeding
{
    // Common practice, no source: honey holds about four fifths sugar; a kilogram of sugar takes up about 0.62 L once dissolved.
    private const double SugarInHoney = 0.80;
    private const double LitersPerKilogramOfSugar = 0.62;
    private const double LitersPerKilogramOfHoney = 0.70;
    private const double AssumedPoints = 90;

    /// <summary>Volume that a kilogram takes up in the must. [L/kg]</summary>
    /// <param name="sweetener">A choice of the catalogue's field of that name; null for sugar.</param>
    public static double LitersPerKilogram(string? sweetener) => sweetener == "honey" ? LitersPerKilogramOfHoney : LitersPerKilogramOfSugar;

    /// <summary>Every addition of sugar with an amount, in time order.</summary>
    /// <remarks>
    /// <para><b>Equation.</b> c' = (c·V + m·s)/(V + m·v): c the grams in a liter of the must so far, V its liters, m the mass, s its share of
    /// sugar, v its volume; the feeding's points are those of c' less those of c.</para>
    /// <para><b>Valid.</b> With the batch's volume told; without it there is none. A batch without original gravity is taken for 90 points,
    /// which moves the result by less than a tenth. <b>Error.</b> 5 % for sugar, 10 % for honey. <b>Check.</b> LedgerTests.</para>
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
                var sweetener = entry.Word("sweetener");
                var sugar = kilograms * 1000 * (sweetener == "honey" ? SugarInHoney : 1);
                var more = liters + (kilograms * LitersPerKilogram(sweetener));
                var fed = PointsOf(((GramsPerLiter(points) * liters) + sugar) / more);
                feedings.Add(new Feeding(entry.At, fed - points));
                (points, liters) = (fed, more);
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

    private static double GramsPerLiter(double points) => SucroseSolution.GramsPerLiterOf(SpecificGravity.FromPoints(points)).Value.GramsPerLiter;

    private static double PointsOf(double gramsPerLiter)
    {
        var (low, high) = (0.0, 450.0);
        for (var i = 0; i < 50; i++)
        {
            var middle = (low + high) / 2;
            (low, high) = GramsPerLiter(middle) < gramsPerLiter ? (middle, high) : (low, middle);
        }

        return (low + high) / 2;
    }
}
