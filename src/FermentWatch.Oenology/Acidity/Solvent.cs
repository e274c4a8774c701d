using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Acidity;

/// <summary>What water with alcohol does to dissociation: activity of ions, and weaker acids.</summary>
/// <param name="DaviesA">Constant A of the Davies equation; 0.509 in water at 25 °C.</param>
/// <param name="PKaShift">What is added to every pKa; 0 in water.</param>
/// <param name="Validity">Whether the alcohol is inside the range of the source.</param>
public readonly record struct Solvent(double DaviesA, double PKaShift, Validity Validity = Validity.WithinSource)
{
    /// <summary>Rise of every pKa with alcohol. [1 per % vol]</summary>
    public const double ShiftPerPercent = 0.017;

    /// <summary>Ionic strength up to which the Davies equation holds. [mol/L]</summary>
    public const double HighestIonicStrength = 0.5;

    private const double DaviesAOfWater = 0.509;
    private const double DaviesAPerPercent = (0.561 - DaviesAOfWater) / 12;
    private const double DaviesB = 0.3;
    private const double HighestCheckedPercent = 15;

    /// <summary>Water at 25 °C.</summary>
    public static Solvent Water { get; } = new(DaviesAOfWater, 0);

    /// <summary>Constants for an alcoholic strength. [1]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> A = 0.509 + 0.00433 q, q in % vol (0.561 at 12 % vol from dielectric data, from memory); every pKa rises by
    /// 0.017 q.</para>
    /// <para><b>Valid.</b> 0 to 15 % vol, 25 °C. Above: computed on, marked <see cref="Validity.Extrapolated"/>.</para>
    /// <para><b>Error.</b> The shift is taken from log K of lactate and succinate at 12 % vol and ionic strength 0.05 [Prenesti2012]; read
    /// other ways the same data give 0.011, the sulfite table of OIV 0.020 per % vol. At 12 % vol that is ±0.07 in an absolute pH and
    /// less than 0.01 in a change of pH.</para>
    /// <para><b>Source.</b> [Prenesti2012] table 4. <b>Check.</b> WeakAcidTests, ChargeBalanceTests.</para>
    /// </remarks>
    public static Solvent Of(AlcoholByVolume alcohol) => new(
        DaviesAOfWater + (DaviesAPerPercent * alcohol.Percent),
        ShiftPerPercent * alcohol.Percent,
        alcohol.Percent <= HighestCheckedPercent ? Validity.WithinSource : Validity.Extrapolated);

    /// <summary>Activity coefficient of an ion by the Davies equation. [1]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> log γ = −A z² (√I/(1 + √I) − 0.3 I).</para>
    /// <para><b>Valid.</b> I up to 0.5 mol/L; above, the value at 0.5 is kept. Wine has 0.03 to 0.1.</para>
    /// <para><b>Error.</b> 2 % of γ up to 0.1 mol/L (from memory), 0.01 in pH.</para>
    /// <para><b>Source.</b> [Davies1962]. <b>Check.</b> ChargeBalanceTests against PHREEQC.</para>
    /// </remarks>
    /// <param name="charge">Charge number of the ion.</param>
    /// <param name="ionicStrength">I. [mol/L]</param>
    public double ActivityOf(int charge, double ionicStrength)
    {
        var strength = Math.Clamp(ionicStrength, 0, HighestIonicStrength);
        var root = Math.Sqrt(strength);
        return Math.Pow(10, -DaviesA * charge * charge * ((root / (1 + root)) - (DaviesB * strength)));
    }
}
