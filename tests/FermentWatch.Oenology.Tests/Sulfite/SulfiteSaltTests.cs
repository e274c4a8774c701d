using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Sulfite;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;

namespace FermentWatch.Oenology.Tests.Sulfite;

public sealed class SulfiteSaltTests
{
    [Fact]
    public void MassesAndShares_AgreeWithAtomicMasses() => ReferenceCheck.AllAgree(
        "additions-and-strength.csv",
        row => row.Inputs.Count == 0 && row.Tolerance != "-" && row.Quantity.Contains("mass", StringComparison.Ordinal) && !row.Quantity.Contains("tablet", StringComparison.Ordinal),
        rows: 4,
        independentRows: 0,
        row => row.Quantity switch
        {
            "molar mass SO2" => SulfurDioxide.GramsPerMole,
            "molar mass K2S2O5" => SulfiteSalt.Potassium.GramsPerMole,
            _ => Named(row.Quantity).SulfurDioxideShare,
        });

    // One row is a worked example that a winemakers' page prints with the factor 0.576.
    [Fact]
    public void PowderForAnAddition_AgreesWithTheRows() => ReferenceCheck.AllAgree(
        "additions-and-strength.csv",
        row => row.Inputs.ContainsKey("addition_mg_per_L"),
        rows: 8,
        independentRows: 1,
        row => Named(row.Quantity).GramsFor(MassConcentration.FromMilligramsPerLiter(row.Input("addition_mg_per_L")), Volume.FromLiters(row.Input("volume_L"))),
        row => row.Quantity.Contains("printed", StringComparison.Ordinal));

    [Property(MaxTest = 300)]
    public Property PowderToAdditionAndBack_ReturnsTheNumber() => Prop.ForAll(
        Numbers.Between(0, 350).ToArbitrary(),
        Numbers.Between(0.1, 1000).ToArbitrary(),
        Numbers.Between(0.3, 1).ToArbitrary(),
        (milligrams, liters, strength) =>
        {
            var volume = Volume.FromLiters(liters);
            var salt = SulfiteSalt.Sodium.WithStrength(strength);
            return Math.Abs(salt.AdditionOf(salt.GramsFor(MassConcentration.FromMilligramsPerLiter(milligrams), volume), volume).MilligramsPerLiter - milligrams) < 1e-9;
        });

    [Fact]
    public void OldPowder_NeedsMore()
    {
        var addition = MassConcentration.FromMilligramsPerLiter(50);
        var volume = Volume.FromLiters(20);
        var old = SulfiteSalt.Potassium.WithStrength(0.9).WithStrength(0.8);
        Assert.Equal(SulfiteSalt.Potassium.GramsFor(addition, volume) / 0.8, old.GramsFor(addition, volume), 1e-9);
        Assert.Throws<ArgumentOutOfRangeException>(() => old.WithStrength(0));
        Assert.Throws<ArgumentOutOfRangeException>(() => old.WithStrength(1.1));
        Assert.Throws<ArgumentOutOfRangeException>(() => old.AdditionOf(1, Volume.FromLiters(0)));
    }

    private static SulfiteSalt Named(string text) => text.Contains("sodium", StringComparison.Ordinal) ? SulfiteSalt.Sodium : SulfiteSalt.Potassium;
}
