using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Tannin;

/// <summary>Tannin from powder, from black tea, from oak: how much, in which steps, and how long to wait.</summary>
public static class TanninSupply
{
    /// <summary>Least that is usually recommended, of the powder. [mg/L]</summary>
    public const double LeastRecommendedMilligramsPerLiter = 50;

    /// <summary>Most that is usually recommended, of the powder. [mg/L]</summary>
    public const double MostRecommendedMilligramsPerLiter = 300;

    /// <summary>Least share of tannin found in powders that are sold.</summary>
    public const double LeastContent = 0.12;

    /// <summary>Highest share of tannin found in powders that are sold.</summary>
    public const double HighestContent = 0.48;

    /// <summary>Least tannin of a cup of black tea, steeped about five minutes (general food data, from memory). [mg]</summary>
    public const double LeastTeaMilligrams = 150;

    /// <summary>Most tannin of a cup of black tea, steeped about five minutes (general food data, from memory). [mg]</summary>
    public const double MostTeaMilligrams = 300;

    /// <summary>Days before powder is judged, at least (common practice, no source). [d]</summary>
    public const int LeastWaitDays = 7;

    /// <summary>Days before powder is judged, at most (common practice, no source). [d]</summary>
    public const int MostWaitDays = 14;

    /// <summary>Days between two tastes on oak chips (common practice, no source). [d]</summary>
    public const int OakTastingDays = 7;

    /// <summary>Doses of a bench trial inside the recommended range. [mg/L]</summary>
    public static IReadOnlyList<double> TrialDoses { get; } = [0, 50, 100, 200, 300];

    /// <summary>Powder for a wanted amount of tannin. [mg/L]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> tannin / content. <b>Valid.</b> A content that its maker states; powders have 12 to 48 %.</para>
    /// <para><b>Error.</b> That of the content. <b>Source.</b> Balance of mass; [DowneyHarbertson] for the contents. <b>Check.</b> TanninSupplyTests.</para>
    /// </remarks>
    /// <param name="tannin">Tannin wanted.</param>
    /// <param name="content">Share of tannin in the powder, above 0 to 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">A content outside that.</exception>
    public static MassConcentration PowderFor(MassConcentration tannin, double content) => MassConcentration.FromMilligramsPerLiter(tannin.MilligramsPerLiter / RequireContent(content));

    /// <summary>Tannin that a dose of powder brings: the inverse. [mg/L]</summary>
    /// <exception cref="ArgumentOutOfRangeException">A content outside 0 to 1.</exception>
    public static MassConcentration TanninOf(MassConcentration powder, double content) => MassConcentration.FromMilligramsPerLiter(powder.MilligramsPerLiter * RequireContent(content));

    /// <summary>Cups of tea that stand in for an amount of tannin, from strong to weak tea.</summary>
    /// <remarks>
    /// <para><b>Equation.</b> tannin · V / 300 to tannin · V / 150, a cup of 240 mL steeped about five minutes.</para>
    /// <para><b>Error.</b> The range is the error: the tannin of tea is from memory and depends on leaf and time. It brings its flavor and its
    /// water. <b>Check.</b> TanninSupplyTests.</para>
    /// </remarks>
    public static (double Fewest, double Most) TeaCups(MassConcentration tannin, Volume volume)
    {
        var milligrams = tannin.MilligramsPerLiter * volume.Liters;
        return (milligrams / MostTeaMilligrams, milligrams / LeastTeaMilligrams);
    }

    /// <summary>Little by little: the running total of the dose after each step, so that every step is at most 100 mg/L. [mg/L]</summary>
    /// <remarks><para><b>Rule.</b> Two equal steps at least, with a wait and a taste between (common practice, no source). <b>Check.</b> TanninSupplyTests.</para></remarks>
    public static IReadOnlyList<double> Steps(MassConcentration dose)
    {
        var steps = Math.Clamp((int)Math.Ceiling((dose.MilligramsPerLiter / 100) - 1e-9), 2, 20);
        return [.. Enumerable.Range(1, steps).Select(step => dose.MilligramsPerLiter * step / steps)];
    }

    private static double RequireContent(double content) => content is > 0 and <= 1
        ? content
        : throw new ArgumentOutOfRangeException(nameof(content), content, "The share of tannin must be above 0 and at most 1.");
}
