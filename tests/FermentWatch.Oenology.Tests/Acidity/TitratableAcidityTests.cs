using FermentWatch.Oenology.Quantities;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;

namespace FermentWatch.Oenology.Tests.Acidity;

public sealed class TitratableAcidityTests
{
    [Fact]
    public void Conversions_AgreeWithRatiosOfEquivalents() => ReferenceCheck.AllAgree(
        "equivalents.csv",
        row => row.Quantity.StartsWith("convert titratable", StringComparison.Ordinal),
        rows: 4,
        independentRows: 0,
        row => AcidRows.Tartaric(row.Input("ta_g_per_L_tartaric")).GramsPerLiter(Basis(row.Unit.Split(' ')[2])),
        _ => false);

    [Fact]
    public void SulfuricEquivalent_AgreesWithAtomicMasses() => ReferenceCheck.AllAgree(
        "equivalents.csv",
        row => row.Quantity.StartsWith("equivalent mass, sulfuric", StringComparison.Ordinal),
        rows: 1,
        independentRows: 0,
        _ => AcidBasis.Sulfuric.GramsPerEquivalent());

    [Fact]
    public void LimitOfVolatileAcidityInGrams_IsTwentyMilliequivalents() => ReferenceCheck.AllAgree(
        "equivalents.csv",
        row => row.Inputs.ContainsKey("meq_per_L"),
        rows: 1,
        independentRows: 0,
        row => TitratableAcidity.FromMilliequivalentsPerLiter(row.Input("meq_per_L")).GramsPerLiter(AcidBasis.Acetic));

    // A printed summary says 1.53; a handbook's 0.49 g/L as sulfuric for potassium bicarbonate is the second row.
    [Fact]
    public void SulfuricAsTartaric_IsThePrintedFactor()
    {
        ReferenceCheck.AllAgree(
            "equivalents.csv",
            row => row.Inputs.ContainsKey("g_per_L_sulfuric"),
            rows: 1,
            independentRows: 0,
            row => TitratableAcidity.FromGramsPerLiter(row.Input("g_per_L_sulfuric"), AcidBasis.Sulfuric).GramsPerLiter(AcidBasis.Tartaric));
        ReferenceCheck.AllAgree(
            "measured-changes.csv",
            row => row.Inputs.ContainsKey("factor"),
            rows: 1,
            independentRows: 0,
            row => TitratableAcidity.FromGramsPerLiter(0.49 * row.Input("dose_g_per_L"), AcidBasis.Sulfuric).GramsPerLiter(AcidBasis.Tartaric));
    }

    [Property(MaxTest = 300)]
    public Property EveryBasisAndBack_ReturnsTheNumber() => Prop.ForAll(
        Numbers.Between(0, 40).ToArbitrary(),
        Gen.Elements(Enum.GetValues<AcidBasis>()).ToArbitrary(),
        (grams, basis) => Math.Abs(TitratableAcidity.FromGramsPerLiter(grams, basis).GramsPerLiter(basis) - grams) < 1e-9);

    [Fact]
    public void OutsideTheRange_IsRefusedWithBothBounds()
    {
        var fault = Assert.Throws<ArgumentOutOfRangeException>(() => TitratableAcidity.FromMilliequivalentsPerLiter(-1));
        Assert.Contains("from 0 to 1000 meq/L", fault.Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentOutOfRangeException>(() => Ph.FromValue(14.1));
        Assert.Throws<ArgumentOutOfRangeException>(() => Ph.FromValue(double.NaN));
        Assert.Throws<ArgumentOutOfRangeException>(() => MassConcentration.FromMilligramsPerLiter(-0.1));
    }

    private static AcidBasis Basis(string word) => Enum.Parse<AcidBasis>(word, ignoreCase: true);
}
