using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Sulfite;

/// <summary>How much of the total sulfite of a finished wine is free, when nothing was measured.</summary>
public static class FreeShare
{
    /// <summary>Share in a turbid or sweet wine. [1]</summary>
    public const double Least = 0.35;

    /// <summary>Share in a clean, dry wine. [1]</summary>
    public const double Most = 0.75;

    /// <summary>Range of free sulfite by the total. [mg/L]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> 0.35 to 0.75 of the total.</para>
    /// <para><b>Valid.</b> Finished wine, total measured a short time ago. A total summed up from additions is an upper bound, so the
    /// free can be less than the range, even none.</para>
    /// <para><b>Error.</b> The range. <b>Source.</b> [PWV2014]. <b>Check.</b> SulfiteDoseTests.</para>
    /// </remarks>
    public static (MassConcentration Least, MassConcentration Most) Of(MassConcentration total) => (
        MassConcentration.FromMilligramsPerLiter(Least * total.MilligramsPerLiter),
        MassConcentration.FromMilligramsPerLiter(Most * total.MilligramsPerLiter));
}
