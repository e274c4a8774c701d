using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Acidity;

/// <summary>pH of weak acids partly neutralized by potassium and other strong ions, from the balance of charges.</summary>
public static class ChargeBalance
{
    /// <summary>Stated error of an absolute pH from a composition.</summary>
    public const double AbsolutePhTolerance = 0.1;

    private const double WaterIonProduct = 1e-14;
    private const double Converged = 1e-14;
    private const int MostRounds = 80;

    /// <summary>Strong cations less strong anions that hold a mixture at a pH, and the ionic strength there. [mol/L]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> C = Σ z·[anion of charge z] + [OH⁻] − [H⁺]. For each acid, [HₙA]:[Hₙ₋₁A⁻]: … follow from Kᵢ·γᵢ₋₁/(aH·γᵢ), aH
    /// = 10^−pH, [H⁺] = aH/γ₁, with the activity coefficients of <see cref="Solvent"/> at I = ½ (|C| + [H⁺] + [OH⁻] + Σ z²·[anion]),
    /// repeated until I stays.</para>
    /// <para><b>Valid.</b> 25 °C, I up to 0.5 mol/L, 0 to 15 % vol; beyond, computed with the activity at 0.5.</para>
    /// <para><b>Error.</b> As a pH: 0.003 to PHREEQC with the same constants.</para>
    /// <para><b>Source.</b> Charge balance; [Davies1962]. <b>Check.</b> ChargeBalanceTests, 20 PHREEQC cases and a primary pH standard.</para>
    /// </remarks>
    public static IonBalance At(AcidMixture mixture, Ph ph, Solvent solvent)
    {
        ArgumentNullException.ThrowIfNull(mixture);
        var activity = Math.Pow(10, -ph.Value);
        var balance = new IonBalance(0, 0.03);
        for (var round = 0; round < MostRounds; round++)
        {
            var next = Once(mixture, activity, solvent, balance.IonicStrength);
            if (Math.Abs(next.IonicStrength - balance.IonicStrength) < Converged)
            {
                return next;
            }

            balance = next;
        }

        return balance;
    }

    /// <summary>pH of a mixture with strong cations. [pH]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> The pH at which <see cref="At"/> gives the cations, by bisection: the cations rise with pH.</para>
    /// <para><b>Valid.</b> As <see cref="At"/>. Cations that no pH from 0 to 14 holds give the end of that range, marked.</para>
    /// <para><b>Error.</b> ±0.1 as an absolute pH of a wine from its composition, for what the composition leaves out.</para>
    /// <para><b>Source.</b> Charge balance. <b>Check.</b> ChargeBalanceTests.</para>
    /// </remarks>
    /// <param name="mixture">All acid, free and bound.</param>
    /// <param name="netCationMolesPerLiter">Strong cations less strong anions: in must and wine mostly potassium. [mol/L]</param>
    /// <param name="solvent">Water with alcohol.</param>
    public static Computed<Ph> PhOf(AcidMixture mixture, double netCationMolesPerLiter, Solvent solvent)
    {
        var (low, high) = (0.0, 14.0);
        for (var halving = 0; halving < 50; halving++)
        {
            var middle = (low + high) / 2;
            (low, high) = At(mixture, Ph.FromValue(middle), solvent).NetCationMolesPerLiter < netCationMolesPerLiter ? (middle, high) : (low, middle);
        }

        var ph = Ph.FromValue((low + high) / 2);
        var isWithin = solvent.Validity is Validity.WithinSource
            && ph.Value is > 1e-9 and < 13.999_999
            && At(mixture, ph, solvent).IonicStrength <= Solvent.HighestIonicStrength;
        return new(ph, AbsolutePhTolerance, isWithin ? Validity.WithinSource : Validity.Extrapolated);
    }

    /// <summary>Base that a titration takes from one pH to another. [meq/L]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> 1000·(C(end) − C(start)), C by <see cref="At"/>. Never negative: a sample beyond the end point takes none.</para>
    /// <para><b>Valid.</b> As <see cref="At"/>; degassed sample, dilution by the base left out.</para>
    /// <para><b>Error.</b> 0.03 g/L as tartaric by the solver.</para>
    /// <para><b>Source.</b> Charge balance. <b>Check.</b> ChargeBalanceTests.</para>
    /// </remarks>
    public static double TitratableMilliequivalents(AcidMixture mixture, Ph start, Ph end, Solvent solvent) => Math.Max(
        0,
        1000 * (At(mixture, end, solvent).NetCationMolesPerLiter - At(mixture, start, solvent).NetCationMolesPerLiter));

    /// <summary>Acid or base that moves the pH by one unit around a pH. [meq/L per pH]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> 1000·(C(pH + 0.05) − C(pH − 0.05))/0.1 by <see cref="At"/>.</para>
    /// <para><b>Valid.</b> pH 1 to 13.</para>
    /// <para><b>Error.</b> Measured capacities of single acids are 4 to 31 % below this model [RibereauGayon2006].</para>
    /// <para><b>Source.</b> Definition. <b>Check.</b> BufferCapacityTests.</para>
    /// </remarks>
    public static double BufferCapacity(AcidMixture mixture, Ph ph, Solvent solvent)
    {
        var (low, high) = (Math.Max(0, ph.Value - 0.05), Math.Min(14, ph.Value + 0.05));
        return 1000
            * (At(mixture, Ph.FromValue(high), solvent).NetCationMolesPerLiter - At(mixture, Ph.FromValue(low), solvent).NetCationMolesPerLiter)
            / (high - low);
    }

    private static IonBalance Once(AcidMixture mixture, double activity, Solvent solvent, double ionicStrength)
    {
        Span<double> gamma = [1, solvent.ActivityOf(1, ionicStrength), solvent.ActivityOf(2, ionicStrength), solvent.ActivityOf(3, ionicStrength)];
        var hydrogen = activity / gamma[1];
        var hydroxide = WaterIonProduct / activity / gamma[1];
        var charge = hydroxide - hydrogen;
        var squares = hydroxide + hydrogen;
        foreach (var (acid, moles) in mixture.MolesPerLiter)
        {
            var (term, sum, charges, chargeSquares) = (1.0, 1.0, 0.0, 0.0);
            for (var lost = 1; lost <= acid.Protons; lost++)
            {
                term *= Math.Pow(10, -(acid.Dissociation[lost - 1] + solvent.PKaShift)) * gamma[lost - 1] / (activity * gamma[lost]);
                sum += term;
                charges += lost * term;
                chargeSquares += lost * lost * term;
            }

            charge += moles * charges / sum;
            squares += moles * chargeSquares / sum;
        }

        return new(charge, (squares + Math.Abs(charge)) / 2);
    }
}

/// <summary>Charges of a solution at a pH.</summary>
/// <param name="NetCationMolesPerLiter">Strong cations less strong anions that balance it. [mol/L]</param>
/// <param name="IonicStrength">Half the sum of c·z². [mol/L]</param>
public readonly record struct IonBalance(double NetCationMolesPerLiter, double IonicStrength);
