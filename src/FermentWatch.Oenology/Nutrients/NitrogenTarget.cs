using FermentWatch.Oenology.Density;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Nutrients;

/// <summary>Nitrogen that a must should hold for its yeast: a range, because published results disagree.</summary>
/// <param name="Lowest">Below it trouble is more likely. [mg N/L]</param>
/// <param name="Usual">A middle to aim at. [mg N/L]</param>
/// <param name="Highest">More serves no yeast, and leaves food for others. [mg N/L]</param>
public readonly record struct NitrogenTarget(double Lowest, double Usual, double Highest)
{
    private const double TroubleBelow = 150;
    private const double HighestOfMead = 270;
    private const double HighestInLiterature = 500;

    /// <summary>The range for a must. [mg N/L]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> Lowest 150. Usual 200 at 21 °Brix and 25 more for each °Brix, within 150 and 400; for mead at most 267.
    /// Highest 270 for mead, else 100 above the usual, at most 500.</para>
    /// <para><b>Valid.</b> 1.030 to 1.130. <b>Error.</b> The range; published targets go from 140 to 500.</para>
    /// <para><b>Source.</b> 150: [WeeksHenschke]; 140 to 500: [Watson]; slow below 100: [Schreiner2018]; mead 150 best in one study
    /// [MeadNitrogen], 267 used in others, from memory; the line by °Brix from memory. <b>Check.</b> NutrientTests.</para>
    /// </remarks>
    public static NitrogenTarget For(SpecificGravity must, bool isMead)
    {
        var brix = SucroseSolution.PlatoOf(must).Value.Degrees;
        var usual = Math.Clamp(200 + (25 * (brix - 21)), TroubleBelow, isMead ? 267 : 400);
        return new(TroubleBelow, usual, isMead ? HighestOfMead : Math.Min(usual + 100, HighestInLiterature));
    }
}
