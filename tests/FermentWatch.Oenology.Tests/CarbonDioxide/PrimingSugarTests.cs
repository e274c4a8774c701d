using FermentWatch.Oenology.CarbonDioxide;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Worksheets;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;

namespace FermentWatch.Oenology.Tests.CarbonDioxide;

public sealed class PrimingSugarTests
{
    [Fact]
    public void GasOfTirageSugar_Agrees()
    {
        var row = ReferenceTable.Read("bottle-pressure.csv").Single(one => one.Id == "CAR-bottle-pressure-031");
        Assert.Equal(row.ExpectedNumber, row.Input("sucrose_g_per_L") * PrimingSugar.CarbonDioxidePerGram(PrimingKind.Sucrose, 0), row.ToleranceNumber);
    }

    [Fact]
    public void AlcoholOfTirageSugar_Agrees()
    {
        var row = ReferenceTable.Read("bottles-and-priming.csv").Single(one => one.Id == "CAR-bottles-and-priming-003");
        var hexose = row.Input("sucrose_g_per_L") * PrimingSugar.CarbonDioxidePerGram(PrimingKind.Sucrose, 0) / CarbonDioxideYield.PerHexose;
        Assert.Equal(row.ExpectedNumber, hexose / PrimingSugar.HexosePerAlcoholPercent, row.ToleranceNumber);
    }

    // Independent: eye doctors print 90 psi; converted 6.21 bar.
    [Fact]
    public void PoundsPerSquareInch_AreReadAsBar()
    {
        var row = ReferenceTable.Read("bottles-and-priming.csv").Single(one => one.Id == "CAR-bottles-and-priming-033");
        Assert.True(QuantityKind.Pressure.TryRead(row.Inputs["psi"] + " psi", out var bar));
        Assert.Equal(row.ExpectedNumber, bar, row.ToleranceNumber);
    }

    // Glucose of a gram of monohydrate is 0.9091 g (stoichiometry); honey of 17.2 % water has 78.3 g of sugar as hexose (White and Doner 1980).
    [Fact]
    public void OtherSugars_GiveTheirShareOfHexose()
    {
        Assert.Equal(0.9091, PrimingSugar.CarbonDioxidePerGram(PrimingKind.Dextrose, 0) / CarbonDioxideYield.PerHexose, 0.0005);
        Assert.Equal(1, PrimingSugar.CarbonDioxidePerGram(PrimingKind.DextroseAnhydrous, 0) / CarbonDioxideYield.PerHexose, 12);
        Assert.Equal(0.783, PrimingSugar.CarbonDioxidePerGram(PrimingKind.Honey, 0.172) / CarbonDioxideYield.PerHexose, 0.001);
        Assert.Throws<ArgumentOutOfRangeException>(() => PrimingSugar.CarbonDioxidePerGram(PrimingKind.Honey, 0.6));
    }

    // There and back: the sugar found, fermented out, gives the gas that was wanted.
    [Property(MaxTest = 500)]
    public Property SugarFound_GivesTheGasWanted() => Prop.ForAll(
        Numbers.Between(2, 12).ToArbitrary(),
        Numbers.Between(0, 2).ToArbitrary(),
        Gen.Elements(Enum.GetValues<PrimingKind>()).ToArbitrary(),
        (wanted, there, kind) =>
        {
            var sugar = PrimingSugar.For(Exactly(wanted), Exactly(there), kind, 0.18).Value.GramsPerLiter;
            return Math.Abs(there + (sugar * PrimingSugar.CarbonDioxidePerGram(kind, 0.18)) - wanted) < 1e-9;
        });

    [Fact]
    public void GasAlreadyThere_NeedsNoSugar() => Assert.Equal(0, PrimingSugar.For(Exactly(1), Exactly(1.5), PrimingKind.Sucrose, 0).Value.GramsPerLiter);

    private static Computed<MassConcentration> Exactly(double grams) => new(MassConcentration.FromGramsPerLiter(grams), 0, Validity.WithinSource);
}
