using FermentWatch.Oenology.Acidity;
using FermentWatch.Oenology.Quantities;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;

namespace FermentWatch.Oenology.Tests.Acidity;

public sealed class MalolacticConversionTests
{
    [Fact]
    public void Products_AgreeWithAtomicMasses() => ReferenceCheck.AllAgree(
        "malolactic-and-deacidification.csv",
        row => row.Inputs.ContainsKey("malic_g"),
        rows: 2,
        independentRows: 0,
        row =>
        {
            var malic = MassConcentration.FromGramsPerLiter(row.Input("malic_g"));
            return (row.Quantity.StartsWith("lactic", StringComparison.Ordinal) ? MalolacticConversion.LacticFrom(malic) : MalolacticConversion.CarbonDioxideFrom(malic)).GramsPerLiter;
        });

    [Fact]
    public void FallOfTitratableAcidity_IsOneProtonForEachMolecule() => ReferenceCheck.AllAgree(
        "malolactic-and-deacidification.csv",
        row => row.Inputs.ContainsKey("malic_g_per_L"),
        rows: 3,
        independentRows: 0,
        Fall,
        _ => false);

    [Fact]
    public void FallAmongMeasuredChanges_IsTheSame() => ReferenceCheck.AllAgree(
        "measured-changes.csv",
        row => row.Quantity.StartsWith("TA fall by complete conversion", StringComparison.Ordinal),
        rows: 1,
        independentRows: 0,
        Fall);

    [Property(MaxTest = 200)]
    public Property Mass_IsKept() => Prop.ForAll(
        Numbers.Between(0, 15).ToArbitrary(),
        grams =>
        {
            var malic = MassConcentration.FromGramsPerLiter(grams);
            return Math.Abs(MalolacticConversion.LacticFrom(malic).GramsPerLiter + MalolacticConversion.CarbonDioxideFrom(malic).GramsPerLiter - grams) < 1e-9;
        });

    // Seven red lots rose by up to 0.2 [BousbourasKunkee1971], the average is about 0.2: inside what is predicted.
    [Fact]
    public void MeasuredRiseOfPh_LiesInsideThePredictedOne()
    {
        for (var ph = 3.1; ph <= 3.81; ph += 0.1)
        {
            var buffer = AcidBuffer.Fit(new(Ph.FromValue(ph), AcidRows.Tartaric(7), AlcoholByVolume.FromPercent(12.5)), AcidProfile.GrapeWine)!;
            var after = buffer.After(AcidChange.Malolactic(MassConcentration.FromGramsPerLiter(20)));
            Assert.InRange(0.2, after.PhChange - after.Ph.Tolerance, after.PhChange + after.Ph.Tolerance);
            Assert.True(after.PhChange > 0);
            Assert.Equal(0, buffer.Mixture.MinusMoles(WeakAcid.Malic, 1).GramsPerLiterOf(WeakAcid.Malic));
        }
    }

    private static double Fall(ReferenceRow row) =>
        MalolacticConversion.FallFrom(MassConcentration.FromGramsPerLiter(row.Input("malic_g_per_L"))).GramsPerLiter(AcidBasis.Tartaric);
}
