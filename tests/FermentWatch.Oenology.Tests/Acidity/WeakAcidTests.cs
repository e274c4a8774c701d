using FermentWatch.Oenology.Acidity;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Sulfite;

namespace FermentWatch.Oenology.Tests.Acidity;

public sealed class WeakAcidTests
{
    [Fact]
    public void Masses_AgreeWithAtomicMasses() => ReferenceCheck.AllAgree(
        "equivalents.csv",
        row => row.Quantity.Contains(" mass, ", StringComparison.Ordinal) && !row.Quantity.Contains("sulfuric", StringComparison.Ordinal),
        rows: 10,
        independentRows: 0,
        row => row.Quantity.StartsWith("molar", StringComparison.Ordinal) ? AcidRows.Named(row.Quantity).GramsPerMole : AcidRows.Named(row.Quantity).GramsPerEquivalent);

    [Fact]
    public void RiseOfTitratableAcidity_IsTheRatioOfEquivalents() => ReferenceCheck.AllAgree(
        "equivalents.csv",
        row => row.Quantity.StartsWith("titratable acidity raised", StringComparison.Ordinal),
        rows: 5,
        independentRows: 0,
        row => AcidRows.Named(row.Quantity.Split(',')[0]).TitratableOf(MassConcentration.FromGramsPerLiter(row.Input("addition_g_per_L"))).GramsPerLiter(AcidBasis.Tartaric),
        _ => false);

    // Most are the constants that are shipped, so this checks the copy: NIST critical constants with PHREEQC. Succinic acid stands against the
    // ThermoChimie set, which differs by 0.03 and 0.05. Malic, lactic and gluconic are from memory: no more than a sanity check.
    [Fact]
    public void DissociationAtZeroIonicStrength_AgreesWithPublishedSets() => ReferenceCheck.AllAgree(
        "dissociation-constants.csv",
        row => row.Quantity.StartsWith("pKa", StringComparison.Ordinal),
        rows: 15,
        independentRows: 2,
        row => row.Quantity.Contains("sulfurous", StringComparison.Ordinal)
            ? SulfurDioxideDissociation.Second
            : AcidRows.Named(row.Quantity).Dissociation[int.TryParse(row.Quantity[3..4], out var place) ? place - 1 : 0],
        row => row.Status == "confirmed" && row.Quantity.Contains("succinic", StringComparison.Ordinal));

    // Measured at ionic strength 0.05 in water and at 12 % vol [Prenesti2012], and the Davies equation for the last row. The second
    // constant of succinic acid and the shift with alcohol were taken from these measurements; lactic acid in water and the sum of both
    // constants of succinic acid at 12 % vol were not.
    [Fact]
    public void DissociationAtIonicStrength_AgreesWithMeasurements() => ReferenceCheck.AllAgree(
        "dissociation-constants.csv",
        row => row.Inputs.ContainsKey("ionic_strength_M"),
        rows: 6,
        independentRows: 2,
        row =>
        {
            var alcohol = AlcoholByVolume.FromPercent(row.Inputs.ContainsKey("abv_percent") ? row.Input("abv_percent") : 0);
            return row.Quantity switch
            {
                var quantity when quantity.Contains("lact", StringComparison.Ordinal) => Conditional(WeakAcid.Lactic, 0, alcohol),
                var quantity when quantity.Contains("b2", StringComparison.Ordinal) => Conditional(WeakAcid.Succinic, 0, alcohol) + Conditional(WeakAcid.Succinic, 1, alcohol),
                _ => Conditional(WeakAcid.Succinic, 1, alcohol),
            };
        },
        row => !row.Source.StartsWith("Davies", StringComparison.Ordinal) && (row.Quantity.Contains("0 % ethanol", StringComparison.Ordinal) ? row.Quantity.Contains("lact", StringComparison.Ordinal) : row.Quantity.Contains("b2", StringComparison.Ordinal)));

    [Fact]
    public void ConstantsThatAreNotInOrder_AreRefused()
    {
        Assert.Throws<ArgumentException>(() => new WeakAcid("none", 100));
        Assert.Throws<ArgumentException>(() => new WeakAcid("back", 100, 4, 3));
        Assert.Throws<ArgumentException>(() => new WeakAcid("four", 100, 1, 2, 3, 4));
        Assert.Throws<ArgumentOutOfRangeException>(() => new WeakAcid("weightless", 0, 3));
    }

    // Constants in concentrations: pK + log of the activities' ratio, z of H, base and acid.
    private static double Conditional(WeakAcid acid, int step, AlcoholByVolume alcohol)
    {
        const double IonicStrength = 0.05;
        var solvent = Solvent.Of(alcohol);
        return acid.Dissociation[step] + solvent.PKaShift
            + Math.Log10(solvent.ActivityOf(1, IonicStrength) * solvent.ActivityOf(step + 1, IonicStrength) / solvent.ActivityOf(step, IonicStrength));
    }
}
