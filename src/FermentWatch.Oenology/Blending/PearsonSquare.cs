using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Blending;

/// <summary>The square for two parts: right by mass for °Brix and mass fractions, by volume for grams per liter.</summary>
public static class PearsonSquare
{
    /// <summary>Parts of the richer and of the poorer one; null where the target is not between them.</summary>
    /// <remarks>
    /// <para><b>Equation.</b> rich : poor = (target − poor) : (rich − target).</para>
    /// <para><b>Valid.</b> °Brix or % of mass, by MASS: 12 °Bx and 65 °Bx taken by volume give 26.5 instead of 24 °Bx. Grams per liter and
    /// % vol by volume, with contraction neglected (up to 0.1 % vol in wine; 50 + 50 mL of ethanol and water give 96.5 mL).</para>
    /// <para><b>Error.</b> exact. <b>Source.</b> textbook rule. <b>Check.</b> BlendTests, SweeteningTests, WorksheetCatalogTests.</para>
    /// </remarks>
    public static (double Rich, double Poor)? Parts(double rich, double poor, double target) =>
        rich > poor && target >= poor && target <= rich ? (target - poor, rich - target) : null;

    /// <summary>Base to add to a volume that was overdosed; null where it can't help. [L]</summary>
    /// <param name="volume">Volume of the overdosed wine.</param>
    /// <param name="present">What it holds, in any unit per liter.</param>
    /// <param name="wanted">What it should hold.</param>
    /// <param name="ofBase">What the base holds: the same wine without the addition, or 0 for water.</param>
    /// <remarks>V·(present − wanted)/(wanted − base). Everything else in the wine moves towards the base too. <b>Check.</b> BlendTests, SweeteningTests, WorksheetCatalogTests.</remarks>
    public static double? LitersToDilute(Volume volume, double present, double wanted, double ofBase) =>
        wanted > ofBase && present >= wanted ? volume.Liters * (present - wanted) / (wanted - ofBase) : null;
}
