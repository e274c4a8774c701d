using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Sulfite;

/// <summary>What a limit of total sulfite depends on.</summary>
public enum WineColor
{
    /// <summary>Not said: the strictest counts.</summary>
    Unknown,

    /// <summary>Red wine.</summary>
    Red,

    /// <summary>White or rosé wine, mead, cider.</summary>
    WhiteOrRose,
}

/// <summary>Limits of total sulfur dioxide in trade, and of the label. For orientation: local law counts.</summary>
public static class SulfiteLimits
{
    /// <summary>From here the label must say that sulfites are there: US 27 CFR 4.32(e), read; EU 1169/2011, from memory. [mg/L]</summary>
    public static MassConcentration Label { get; } = MassConcentration.FromMilligramsPerLiter(10);

    /// <summary>Free sulfur dioxide from which it is tasted by many (common practice, no source). [mg/L]</summary>
    public static MassConcentration FreeTasted { get; } = MassConcentration.FromMilligramsPerLiter(50);

    /// <summary>Highest total sulfur dioxide. [mg/L]</summary>
    /// <remarks>
    /// <para><b>Values.</b> US 350 for all wine. EU red 150, white and rosé 200, each 50 more from 5 g/L sugar; named sweet wines have more
    /// and are not offered. OIV red 150, white and rosé 200 up to 4 g/L of reducing sugar, above that 300 (from memory). None chosen: the
    /// least of these. Mead counts as white wine here: the figure is for wine.</para>
    /// <para><b>Valid.</b> Wine in trade. Unknown color takes the stricter, unknown sugar counts as dry.</para>
    /// <para><b>Source.</b> [CFR4.22], [EU2019934], [OIVC101]. <b>Check.</b> SulfiteLimitsTests.</para>
    /// </remarks>
    /// <param name="law">Whose.</param>
    /// <param name="color">Color.</param>
    /// <param name="sugarGramsPerLiter">Sugar left; null when it is not known. [g/L]</param>
    public static MassConcentration Total(Law law, WineColor color, double? sugarGramsPerLiter) => law switch
    {
        Law.Us => MassConcentration.FromMilligramsPerLiter(350),
        Law.Eu => MassConcentration.FromMilligramsPerLiter((color is WineColor.WhiteOrRose ? 200 : 150) + (sugarGramsPerLiter >= 5 ? 50 : 0)),
        Law.Oiv => MassConcentration.FromMilligramsPerLiter(sugarGramsPerLiter > 4 ? 300 : color is WineColor.WhiteOrRose ? 200 : 150),
        _ => new[] { Law.Us, Law.Eu, Law.Oiv }.Select(one => Total(one, color, sugarGramsPerLiter)).Min(),
    };

    /// <summary>Whether a label must name sulfites.</summary>
    public static bool NeedsLabel(MassConcentration total) => total >= Label;
}
