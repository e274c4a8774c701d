using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Acidity;

/// <summary>The acids and bases of one batch, fitted to its measured pH and titratable acidity, to predict how these change.</summary>
public sealed class AcidBuffer
{
    private const double HighestScale = 200;
    private const double MeterError = 0.05;
    private const double ShareOfChange = 0.8;
    private const double ShareOfChangeAfterTrial = 0.1;
    private const double SmallestTrialChange = 0.05;
    private const double TitrationErrorMilliequivalents = 1.5;

    private readonly double _netCation;
    private readonly double _shareOfChange;

    private AcidBuffer(AcidMeasurement measured, AcidMixture mixture, double netCation, double trialRatio = 1, double shareOfChange = ShareOfChange) =>
        (Measured, Mixture, _netCation, Solvent, TrialRatio, _shareOfChange) = (measured, mixture, netCation, Solvent.Of(measured.Alcohol), trialRatio, shareOfChange);

    /// <summary>What it was fitted to.</summary>
    public AcidMeasurement Measured { get; }

    /// <summary>The fitted acids: typical proportions, so no analysis of this batch.</summary>
    public AcidMixture Mixture { get; }

    /// <summary>Water with the batch's alcohol.</summary>
    public Solvent Solvent { get; }

    /// <summary>Fitted strong cations less strong anions, mostly potassium. [mol/L]</summary>
    public double NetCationMolesPerLiter => _netCation;

    /// <summary>How many times as far as the model this wine moved in a bench trial; 1 without one.</summary>
    public double TrialRatio { get; }

    /// <summary>Acid or base that moves the pH by one unit here, by the model. [meq/L per pH]</summary>
    /// <remarks>As <see cref="ChargeBalance.BufferCapacity"/>. Wine has 30 to 60, mead often 5 to 20.</remarks>
    public double BufferCapacityMilliequivalents => ChargeBalance.BufferCapacity(Mixture, Measured.Ph, Solvent);

    /// <summary>Fits the amount of acid and the cations to a measurement.</summary>
    /// <remarks>
    /// <para><b>Equation.</b> The profile's acids times a factor s, and cations C: C = C(s, pH) of <see cref="ChargeBalance.At"/>, s such
    /// that C(s, end point) − C(s, pH) is the measured titratable acidity. Two unknowns, two measurements.</para>
    /// <para><b>Valid.</b> pH below the end point, and at least the acidity that the free hydrogen ions alone make (0.08 g/L as tartaric
    /// at pH 3). Outside, null: pH and acidity contradict each other, so one is wrong.</para>
    /// <para><b>Error.</b> Both measurements are met within 0.001; what is predicted from it carries the errors of <see cref="After"/>.</para>
    /// <para><b>Source.</b> Charge balance. <b>Check.</b> AcidBufferTests.</para>
    /// </remarks>
    /// <param name="measured">pH, titratable acidity, alcohol.</param>
    /// <param name="profile">Which acids the drink mostly holds.</param>
    /// <param name="malic">Malic acid, if it was measured: taken as it is, and only the other acids are fitted.</param>
    /// <returns>The fitted buffer, or null when the measurements contradict each other.</returns>
    public static AcidBuffer? Fit(AcidMeasurement measured, AcidProfile profile, MassConcentration? malic = null)
    {
        var solvent = Solvent.Of(measured.Alcohol);
        var typical = AcidProfiles.MixtureOf(profile);
        var wanted = measured.Acidity.MilliequivalentsPerLiter;
        AcidMixture At(double scale) => malic is { } known
            ? typical.MinusMoles(WeakAcid.Malic, double.MaxValue).Scaled(scale).Plus(WeakAcid.Malic, known.GramsPerLiter)
            : typical.Scaled(scale);
        double Titratable(double scale) => ChargeBalance.TitratableMilliequivalents(At(scale), measured.Ph, measured.EndPh, solvent);

        if (measured.Ph >= measured.EndPh || Titratable(0) > wanted || Titratable(HighestScale) < wanted)
        {
            return null;
        }

        var (low, high) = (0.0, HighestScale);
        for (var halving = 0; halving < 50; halving++)
        {
            var middle = (low + high) / 2;
            (low, high) = Titratable(middle) < wanted ? (middle, high) : (low, middle);
        }

        var mixture = At((low + high) / 2);
        return new(measured, mixture, ChargeBalance.At(mixture, measured.Ph, solvent).NetCationMolesPerLiter);
    }

    /// <summary>The buffer corrected by a bench trial on this very wine.</summary>
    /// <remarks>
    /// <para><b>Equation.</b> Every predicted change of pH is multiplied by measured/predicted change of the trial.</para>
    /// <para><b>Valid.</b> A trial that moved the pH by 0.05 or more in the predicted direction, and 0.2 to 5 times as far. Otherwise
    /// null: the measurements contradict each other or say nothing.</para>
    /// <para><b>Error.</b> Of a change: 10 % and the meter's 0.05 over the trial's change, at most the 80 % without a trial.</para>
    /// <para><b>Source.</b> Proportion. <b>Check.</b> AcidBufferTests.</para>
    /// </remarks>
    /// <param name="trial">What was added to the sample.</param>
    /// <param name="measuredAfter">pH of the sample afterwards.</param>
    public AcidBuffer? CalibratedBy(AcidChange trial, Ph measuredAfter)
    {
        var predicted = new AcidBuffer(Measured, Mixture, _netCation).After(trial).PhChange;
        var moved = measuredAfter.Value - Measured.Ph.Value;
        return Math.Abs(moved) < SmallestTrialChange - 1e-9 || !(moved / predicted is >= 0.2 and <= 5)
            ? null
            : new(Measured, Mixture, _netCation, moved / predicted, Math.Min(ShareOfChange, ShareOfChangeAfterTrial + (MeterError / Math.Abs(moved))));
    }

    /// <summary>pH and titratable acidity after a change. [pH, meq/L]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> The change is applied to the fitted acids and cations; pH by <see cref="ChargeBalance.PhOf"/>, acidity up to
    /// the end point of the measurement.</para>
    /// <para><b>Valid.</b> 0 to 15 % vol, pH 2.5 to 4.5, 25 °C, no tartrate settling beyond what the change says. Outside: marked.</para>
    /// <para><b>Error.</b> pH ±(0.05 + 0.8 of the change): two real reds moved as predicted after 2 g/L and 1.25 g/L of tartaric acid,
    /// one twice as far after 0.86 g/L, and malolactic conversion raises pH by about 0.2 where 0.1 is predicted; less after a trial, see
    /// <see cref="CalibratedBy"/>. Acidity ±1.5 meq/L
    /// (0.1 g/L as tartaric) and 5 % of the change.</para>
    /// <para><b>Source.</b> Charge balance; [WRE2021], [BousbourasKunkee1971]. <b>Check.</b> AcidBufferTests.</para>
    /// </remarks>
    public AcidPrediction After(AcidChange change)
    {
        ArgumentNullException.ThrowIfNull(change);
        var mixture = Applied(change);
        var bitartrate = Math.Min(change.BitartrateMolesPerLiter, MolesOfTartaric(change));
        var calcium = Math.Min(change.CalciumTartrateMolesPerLiter, MolesOfTartaric(change) - bitartrate);
        var cation = (_netCation * change.Dilution) + change.CationMolesPerLiter - bitartrate - (2 * calcium);
        var solvent = Solvent.Of(AlcoholByVolume.FromPercent(Measured.Alcohol.Percent * change.Dilution));
        var ph = ChargeBalance.PhOf(mixture, cation, solvent);
        var acidity = Math.Min(1000, ChargeBalance.TitratableMilliequivalents(mixture, ph.Value, Measured.EndPh, solvent));

        var phChange = TrialRatio * (ph.Value.Value - Measured.Ph.Value);
        var phAfter = Math.Clamp(Measured.Ph.Value + phChange, 0, 14);
        var validity = ph.Validity is Validity.WithinSource && Measured.Ph.Value is >= 2.5 and <= 4.5 && phAfter is >= 2.5 and <= 4.5
            ? Validity.WithinSource
            : Validity.Extrapolated;
        return new(
            new(Ph.FromValue(phAfter), MeterError + (_shareOfChange * Math.Abs(phChange)), validity),
            new(
                TitratableAcidity.FromMilliequivalentsPerLiter(acidity),
                TitrationErrorMilliequivalents + (0.05 * Math.Abs(acidity - Measured.Acidity.MilliequivalentsPerLiter)),
                validity),
            phChange);
    }

    private double MolesOfTartaric(AcidChange change) =>
        (Mixture.MolesPerLiter.GetValueOrDefault(WeakAcid.Tartaric) * change.Dilution) + change.Added.MolesPerLiter.GetValueOrDefault(WeakAcid.Tartaric);

    private AcidMixture Applied(AcidChange change)
    {
        var mixture = change.Added.MolesPerLiter.Aggregate(
            Mixture.Scaled(change.Dilution),
            (sum, part) => sum.Plus(part.Key, part.Value * part.Key.GramsPerMole));
        var converted = Math.Min(change.MalicConvertedGramsPerLiter / WeakAcid.Malic.GramsPerMole, mixture.MolesPerLiter.GetValueOrDefault(WeakAcid.Malic));
        return mixture
            .MinusMoles(WeakAcid.Malic, converted)
            .Plus(WeakAcid.Lactic, converted * WeakAcid.Lactic.GramsPerMole)
            .MinusMoles(WeakAcid.Tartaric, change.BitartrateMolesPerLiter + change.CalciumTartrateMolesPerLiter);
    }
}

/// <summary>Acid of a batch after a change.</summary>
/// <param name="Ph">pH with its error.</param>
/// <param name="Acidity">Titratable acidity to the same end point, its error in meq/L.</param>
/// <param name="PhChange">How far the pH moves; below 0 when it falls.</param>
public readonly record struct AcidPrediction(Computed<Ph> Ph, Computed<TitratableAcidity> Acidity, double PhChange);
