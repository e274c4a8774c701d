using FermentWatch.Oenology.Acidity;
using FermentWatch.Oenology.Quantities;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;

namespace FermentWatch.Oenology.Tests.Acidity;

public sealed class AcidBlendTests
{
    private const double Base = 5.415;

    [Fact]
    public void OneWine_StaysAsItIs()
    {
        var after = AcidBlend.Of((Wine(3.4, 6), Volume.FromLiters(7)));
        Assert.Equal(3.4, after.Ph.Value.Value, 0.001);
        Assert.Equal(6, after.Acidity.Value.GramsPerLiter(AcidBasis.Tartaric), 0.005);
        Assert.Equal(0, after.PhChange, 0.001);
        Assert.Equal(Validity.WithinSource, after.Ph.Validity);
    }

    // The same composition by PHREEQC: wine base A, and the same with 1 g/L malic acid added (pH 3.129). Half and half of these are base A
    // with half a gram added: computed here by the balance of charges, which PHREEQC checked.
    [Fact]
    public void WineAndTheSameWithMoreAcid_MakeTheWineWithHalfOfIt()
    {
        var water = Solvent.Of(AlcoholByVolume.FromPercent(0));
        var plain = Wine(3.219, Base, alcohol: 0);
        var added = plain.After(AcidChange.Addition(WeakAcid.Malic, MassConcentration.FromGramsPerLiter(1)));
        var richer = Wine(added.Ph.Value.Value, added.Acidity.Value.GramsPerLiter(AcidBasis.Tartaric), alcohol: 0);
        var half = plain.After(AcidChange.Addition(WeakAcid.Malic, MassConcentration.FromGramsPerLiter(0.5)));
        var blend = AcidBlend.Of((plain, Volume.FromLiters(5)), (richer, Volume.FromLiters(5)));
        Assert.Equal(half.Ph.Value.Value, blend.Ph.Value.Value, 0.005);
        Assert.Equal(half.Acidity.Value.MilliequivalentsPerLiter, blend.Acidity.Value.MilliequivalentsPerLiter, 0.1);
        Assert.Equal(0, water.PKaShift);
    }

    [Fact]
    public void StrongerBufferedPart_DrawsThePhToItsSide()
    {
        var (sharp, soft) = (Wine(3.0, 11), Wine(3.8, 3.5));
        var blend = AcidBlend.Of((sharp, Volume.FromLiters(5)), (soft, Volume.FromLiters(5)));
        Assert.InRange(blend.Ph.Value.Value, 3.0, 3.4);
        Assert.True(blend.Ph.Tolerance > 0.05);
        Assert.Equal(blend.Ph.Value.Value - 3.0, blend.PhChange, 9);
    }

    // Between the parts, whatever they are, and in any order.
    [Property(MaxTest = 150)]
    public Property Blend_LiesBetweenItsPartsInAnyOrder() => Prop.ForAll(
        Numbers.Between(3.0, 3.8).ToArbitrary(),
        Numbers.Between(4.5, 9).ToArbitrary(),
        Numbers.Between(0.1, 50).ToArbitrary(),
        (ph, acidity, liters) =>
        {
            var (one, other) = ((Wine(ph, acidity), Volume.FromLiters(liters)), (Wine(3.5, 6), Volume.FromLiters(10)));
            var (there, back) = (AcidBlend.Of(one, other), AcidBlend.Of(other, one));
            return Math.Abs(there.Ph.Value.Value - back.Ph.Value.Value) < 1e-9
                && there.Ph.Value.Value >= Math.Min(ph, 3.5) - 0.005 && there.Ph.Value.Value <= Math.Max(ph, 3.5) + 0.005;
        });

    [Fact]
    public void MoreOfTheSharperWine_LowersThePh()
    {
        var values = Enumerable.Range(0, 11)
            .Select(liters => AcidBlend.Of((Wine(3.1, 9), Volume.FromLiters(liters)), (Wine(3.7, 5), Volume.FromLiters(10))).Ph.Value.Value)
            .ToList();
        Assert.Equal(values.OrderDescending(), values);
        Assert.Equal(11, values.Distinct().Count());
    }

    [Fact]
    public void NothingToBlend_Throws()
    {
        Assert.Throws<ArgumentException>(() => AcidBlend.Of());
        Assert.Throws<ArgumentException>(() => AcidBlend.Of((Wine(3.4, 6), Volume.FromLiters(0))));
    }

    [Fact]
    public void PartBeyondTheSource_IsMarked() => Assert.Equal(
        Validity.Extrapolated,
        AcidBlend.Of((Wine(3.4, 6, alcohol: 18), Volume.FromLiters(5)), (Wine(3.4, 6), Volume.FromLiters(5))).Ph.Validity);

    private static AcidBuffer Wine(double ph, double acidity, double alcohol = 12) => AcidBuffer.Fit(
        new(Ph.FromValue(ph), TitratableAcidity.FromGramsPerLiter(acidity, AcidBasis.Tartaric), AlcoholByVolume.FromPercent(alcohol)), AcidProfile.GrapeWine)!;
}
