using FermentWatch.Oenology.Acidity;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Tests.Acidity;

public sealed class HoneyAcidityTests
{
    [Fact]
    public void AcidOfHoney_AgreesWithTheRow() => ReferenceCheck.AllAgree(
        "measured-changes.csv",
        row => row.Inputs.ContainsKey("honey_g_per_L"),
        rows: 1,
        independentRows: 0,
        row => HoneyAcidity.Of(MassConcentration.FromGramsPerLiter(row.Input("honey_g_per_L")), row.Input("meq_per_kg")).Value.GramsPerLiter(AcidBasis.Tartaric));

    // [White1962], 490 honeys: mean and range as printed.
    [Fact]
    public void MeanAndRange_AreThePrintedOnes()
    {
        var row = Assert.Single(ReferenceTable.Read("measured-changes.csv"), row => row.Quantity == "honey: total acidity");
        Assert.Equal("29.12 (8.68-59.49)", row.Expected);
        Assert.Equal(29.12, HoneyAcidity.MeanMilliequivalentsPerKilogram);
        Assert.Equal(8.68, HoneyAcidity.LowestMilliequivalentsPerKilogram);
        Assert.Equal(59.49, HoneyAcidity.HighestMilliequivalentsPerKilogram);
        Assert.Equal(0.3 * (59.49 - 29.12), HoneyAcidity.Of(MassConcentration.FromGramsPerLiter(300)).Tolerance, 1e-9);
        Assert.Equal(Validity.WithinSource, HoneyAcidity.Of(MassConcentration.FromGramsPerLiter(300)).Validity);
        Assert.Equal(Validity.Extrapolated, HoneyAcidity.Of(MassConcentration.FromGramsPerLiter(300), 8).Validity);
        Assert.Equal(Validity.Extrapolated, HoneyAcidity.Of(MassConcentration.FromGramsPerLiter(300), 60).Validity);
    }
}
