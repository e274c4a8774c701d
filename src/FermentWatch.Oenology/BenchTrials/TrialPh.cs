using FermentWatch.Oenology.Acidity;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.BenchTrials;

/// <summary>Predicts the pH of trial glasses from the wine's measured pH and acidity.</summary>
public static class TrialPh
{
    // The solvent's effect cancels in a change: a usual strength does when it is unknown.
    private const double UsualAlcoholPercent = 12;
    private const double MeterError = 0.05;

    /// <summary>A model for glasses of one wine.</summary>
    /// <param name="profile">Which acids the drink mostly holds.</param>
    /// <param name="endPoint">End point of the titration.</param>
    /// <remarks>
    /// <para><b>Equation.</b> <see cref="AcidBuffer.After"/> with the glass's acids, carbonate and share of wine. A carbonate is predicted for no
    /// tartrate settling and for all that can settle: the middle is shown, half the gap is added to its error.</para>
    /// <para><b>Valid.</b> Wine with measured pH and acidity that do not contradict each other; otherwise no prediction. <b>Error.</b> As there,
    /// and at least 0.05 and the whole change: of two reds tried on the bench one moved more than twice as far as predicted [WRE2021]. So the glass
    /// is measured before the batch is dosed. <b>Check.</b> TrialPhTests.</para>
    /// </remarks>
    public static PhModel For(AcidProfile profile, TitrationEndPoint endPoint = TitrationEndPoint.EightPointTwo) => (wine, wineShare, doses) =>
    {
        if (wine is not { Ph: { } ph, TitratableAcidityGramsPerLiter: { } acidity }
            || AcidBuffer.Fit(
                new AcidMeasurement(
                    Ph.FromValue(ph),
                    TitratableAcidity.FromGramsPerLiter(acidity, AcidBasis.Tartaric),
                    AlcoholByVolume.FromPercent(wine.AlcoholPercent ?? UsualAlcoholPercent),
                    endPoint),
                profile) is not { } buffer)
        {
            return null;
        }

        var (loose, settled) = (buffer.After(Change(wineShare, doses, 0)).Ph, buffer.After(Change(wineShare, doses, 1)).Ph);
        var middle = (loose.Value.Value + settled.Value.Value) / 2;
        var tolerance = Math.Max(Math.Max(loose.Tolerance, settled.Tolerance), MeterError + Math.Abs(middle - ph));
        return new(middle, tolerance + (Math.Abs(loose.Value.Value - settled.Value.Value) / 2));
    };

    private static AcidChange Change(double wineShare, IReadOnlyList<AdditiveDose> doses, double settled) => doses.Aggregate(
        AcidChange.DilutionBy(wineShare),
        (change, dose) => dose.Additive.Role switch
        {
            AdditiveRole.Acid when Find(dose.Additive) is { } acid => change.And(AcidChange.Addition(acid, MassConcentration.FromGramsPerLiter(dose.GramsPerLiter))),
            AdditiveRole.Deacidifier => change.And(Carbonate.PotassiumBicarbonate.ChangeBy(MassConcentration.FromGramsPerLiter(dose.GramsPerLiter), settled)),
            _ => change,
        });

    private static WeakAcid? Find(TrialAdditive additive) => WeakAcid.All.FirstOrDefault(acid => $"{acid.Code}-acid" == additive.Code);
}
