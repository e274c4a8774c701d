using FermentWatch.Oenology.Acidity;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Sweetening;

namespace FermentWatch.Oenology.Tests.Sweetening;

public sealed class SweetenedAcidTests
{
    private static readonly AcidBuffer Wine = AcidBuffer.Fit(
        new(Ph.FromValue(3.219), TitratableAcidity.FromGramsPerLiter(5.415, AcidBasis.Tartaric), default), AcidProfile.GrapeWine)!;

    // PHREEQC: wine base A diluted to 80 % has pH 3.232.
    [Fact]
    public void SugarThatThinsToFourFifths_HasThePhOfTheDilution()
    {
        var row = Assert.Single(ReferenceTable.Read("ph-solver-cases.csv"), row => row.Quantity.Contains("wine base A", StringComparison.Ordinal) && row.Quantity.Contains("80", StringComparison.Ordinal));
        var after = Of(8, 10, SweetenerKind.Sucrose, 3.2);
        ReferenceCheck.Near(row, after.Ph.Value.Value);
        Assert.Equal(0.8 * 5.415, after.Acidity.Value.GramsPerLiter(AcidBasis.Tartaric), 0.05);
    }

    [Fact]
    public void NothingAdded_ChangesNothing()
    {
        var after = Of(10, 10, SweetenerKind.Sucrose, 0);
        Assert.Equal(3.219, after.Ph.Value.Value, 0.001);
        Assert.Equal(5.415, after.Acidity.Value.GramsPerLiter(AcidBasis.Tartaric), 0.005);
    }

    // 0.4 kg of the mean honey in 10 L bring 40 g/L x 29.12 meq/kg = 1.16 meq/L, 0.087 g/L as tartaric; half of it is shown.
    [Fact]
    public void Honey_IsSourerThanSugarByHalfOfItsAcid()
    {
        var (sugar, honey) = (Of(9.7, 10, SweetenerKind.Sucrose, 0.4), Of(9.7, 10, SweetenerKind.Honey, 0.4));
        var more = honey.Acidity.Value.GramsPerLiter(AcidBasis.Tartaric) - sugar.Acidity.Value.GramsPerLiter(AcidBasis.Tartaric);
        Assert.Equal(0.087 / 2, more, 0.003);
        Assert.InRange(honey.Ph.Value.Value, sugar.Ph.Value.Value - 0.05, sugar.Ph.Value.Value - 1e-4);
        Assert.True(honey.Ph.Tolerance > 0.05 && honey.Acidity.Tolerance > sugar.Acidity.Tolerance);
    }

    [Fact]
    public void Juice_IsNotTold() => Assert.Null(SweetenedAcid.Of(Wine, Volume.FromLiters(9), Volume.FromLiters(10), Sweetener.Of(SweetenerKind.Concentrate), 1));

    [Fact]
    public void ImpossibleMass_Throws() => Assert.Throws<ArgumentOutOfRangeException>(() => Of(9, 10, SweetenerKind.Sucrose, -1));

    private static AcidPrediction Of(double before, double after, SweetenerKind kind, double kilograms) =>
        SweetenedAcid.Of(Wine, Volume.FromLiters(before), Volume.FromLiters(after), Sweetener.Of(kind), kilograms)!.Value;
}
