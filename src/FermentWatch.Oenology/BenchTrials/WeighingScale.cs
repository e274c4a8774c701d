using System.Text.Json.Serialization;

namespace FermentWatch.Oenology.BenchTrials;

/// <summary>A scale as its owner describes it.</summary>
/// <param name="Name">What the owner calls it.</param>
/// <param name="CapacityGrams">Most it can carry. [g]</param>
/// <param name="DivisionGrams">Smallest step of its display. [g]</param>
/// <param name="RepeatabilityGrams">Standard deviation of the same thing weighed ten times; null when not tested. [g]</param>
public sealed record WeighingScale(string Name, double CapacityGrams, double DivisionGrams, double? RepeatabilityGrams = null)
{
    /// <summary>Half-width of the error of one net weighing, two standard deviations. [g]</summary>
    /// <remarks><b>Equation.</b> 2·max(s, 0.41·d). Rounding to a division d alone has a standard deviation of 0.41 d for a difference of two
    /// readings. <b>Source.</b> [USP41].</remarks>
    [JsonIgnore]
    public double ErrorGrams => 2 * Math.Max(RepeatabilityGrams ?? 0, 0.41 * DivisionGrams);

    /// <summary>Repeatability from a one-minute test: the same thing put on the scale again and again. [g]</summary>
    /// <param name="readingsGrams">What it showed, three readings or more; ten are better.</param>
    /// <remarks><b>Equation.</b> Standard deviation of the readings, n − 1. <b>Source.</b> [USP41] asks for ten. <b>Check.</b> StockPlanningTests.</remarks>
    /// <exception cref="ArgumentException">Fewer than three readings, or one that is no number.</exception>
    public static double RepeatabilityOf(IReadOnlyList<double> readingsGrams)
    {
        ArgumentNullException.ThrowIfNull(readingsGrams);
        if (readingsGrams.Count < 3 || !readingsGrams.All(double.IsFinite))
        {
            throw new ArgumentException("The repeat test needs three readings or more, all numbers.", nameof(readingsGrams));
        }

        var mean = readingsGrams.Average();
        return Math.Sqrt(readingsGrams.Sum(reading => (reading - mean) * (reading - mean)) / (readingsGrams.Count - 1));
    }

    /// <summary>Smallest mass that can be weighed within a tolerance. [g]</summary>
    /// <param name="tolerance">Allowed error as a share, such as 0.05.</param>
    /// <remarks><b>Equation.</b> 2·max(s, 0.41·d)/tolerance: 0.82·d/tolerance when the repeatability is no worse than the display.
    /// <b>Source.</b> [USP41], which asks for a tolerance of 0.001. <b>Check.</b> StockPlanningTests.</remarks>
    public double SmallestWeighableGrams(double tolerance) => ErrorGrams / tolerance;
}

/// <summary>A dosing syringe or a graduated pipette.</summary>
/// <param name="CapacityMilliliters">Most it holds. [mL]</param>
/// <param name="DivisionMilliliters">Distance of its marks. [mL]</param>
/// <param name="EmptyGrams">What it weighs empty, so that a scale's capacity can be judged. [g]</param>
public sealed record DosingSyringe(double CapacityMilliliters, double DivisionMilliliters, double EmptyGrams = 15)
{
    /// <summary>Error of a volume that is read from the marks, as a share: half a division for each filling.</summary>
    /// <remarks><b>Equation.</b> ½·d·fillings/v. Bubbles and dead volume come on top. <b>Source.</b> [BenchExamples].</remarks>
    public double ReadingError(double milliliters) =>
        milliliters > 0 ? 0.5 * DivisionMilliliters * Math.Max(1, Math.Ceiling(milliliters / CapacityMilliliters)) / milliliters : 0;
}
