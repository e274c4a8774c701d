using FermentWatch.Oenology.Acidity;
using FermentWatch.Oenology.Quantities;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;

namespace FermentWatch.Oenology.Tests.Acidity;

public sealed class AcidSupplyTests
{
    public static TheoryData<string> Supplies => ["powder", "monohydrate", "lactic", "lemon", "blend"];

    [Theory]
    [MemberData(nameof(Supplies))]
    public void DoseForARise_GivesTheRise(string name)
    {
        var supply = Named(name);
        for (var rise = 0.1; rise < 5; rise += 0.3)
        {
            Assert.Equal(rise, supply.RiseOf(supply.GramsPerLiterFor(AcidRows.Tartaric(rise))).Value.GramsPerLiter(AcidBasis.Tartaric), 1e-9);
        }
    }

    [Property(MaxTest = 60)]
    public Property DoseForAPh_GivesThePh() => Prop.ForAll(
        Gen.Elements("powder", "monohydrate", "lactic", "lemon", "blend").ToArbitrary(),
        Numbers.Between(0.02, 0.5).ToArbitrary(),
        (name, fall) =>
        {
            var buffer = AcidBuffer.Fit(new(Ph.FromValue(3.7), AcidRows.Tartaric(5), AlcoholByVolume.FromPercent(12)), AcidProfile.GrapeWine)!;
            var dose = Named(name).GramsPerLiterFor(buffer, Ph.FromValue(3.7 - fall))!.Value;
            return Math.Abs(buffer.After(Named(name).ChangeBy(dose)).PhChange + fall) < 1e-6;
        });

    // Label figures as input, milliliters by arithmetic: 0.9549 and 1.0331 mL for 1 g of acid.
    [Theory]
    [InlineData(0.88, 1.19, 0.9549)]
    [InlineData(0.80, 1.21, 1.0331)]
    public void LiquidLacticAcid_IsDosedByStrengthAndDensity(double strength, double density, double milliliters)
    {
        var supply = AcidSupply.Liquid(WeakAcid.Lactic, strength, density);
        var grams = supply.GramsPerLiterFor(WeakAcid.Lactic.TitratableOf(MassConcentration.FromGramsPerLiter(1)));
        Assert.Equal(milliliters, grams / supply.GramsPerMilliliter!.Value, 0.001);
    }

    // Citric acid monohydrate is 192.12/210.14 = 0.914 acid.
    [Fact]
    public void Monohydrate_NeedsMoreGrams() => Assert.Equal(
        210.14 / 192.12,
        Named("monohydrate").GramsPerLiterFor(AcidRows.Tartaric(1)) / AcidSupply.Powder(WeakAcid.Citric).GramsPerLiterFor(AcidRows.Tartaric(1)),
        0.001);

    [Fact]
    public void LemonJuice_HoldsAboutFortySixGramsOfCitricAcidInALiter()
    {
        var juice = AcidSupply.LemonJuice();
        Assert.Equal(0.0464, AcidSupply.LemonJuiceGramsPerMilliliter, 0.0001);
        Assert.Equal(AcidSupply.LemonJuiceGramsPerMilliliter, juice.Acids[0].Share * juice.GramsPerMilliliter!.Value, 1e-12);
        Assert.Equal(0.25 * juice.RiseOf(20).Value.MilliequivalentsPerLiter, juice.RiseOf(20).Tolerance, 1e-9);
    }

    // By hand: 20.6 g of juice of 1.03 g/mL are 20 mL, so a liter becomes 1.02 L.
    [Fact]
    public void Liquid_ThinsAndPowderDoesNot()
    {
        var juice = AcidSupply.LemonJuice().ChangeBy(20.6);
        Assert.Equal(1 / 1.02, juice.Dilution, 1e-12);
        Assert.Equal(20 * AcidSupply.LemonJuiceGramsPerMilliliter / 1.02, juice.Added.GramsPerLiterOf(WeakAcid.Citric), 1e-9);
        Assert.Equal(1, AcidSupply.Powder(WeakAcid.Malic).ChangeBy(3).Dilution);
    }

    [Fact]
    public void Blend_LiesBetweenItsAcids()
    {
        var blend = Named("blend").GramsPerLiterFor(AcidRows.Tartaric(1));
        Assert.InRange(blend, AcidSupply.Powder(WeakAcid.Citric).GramsPerLiterFor(AcidRows.Tartaric(1)), AcidSupply.Powder(WeakAcid.Tartaric).GramsPerLiterFor(AcidRows.Tartaric(1)));
        Assert.Throws<ArgumentException>(() => AcidSupply.Blend((WeakAcid.Citric, 0)));
        Assert.Throws<ArgumentException>(() => AcidSupply.Blend((WeakAcid.Citric, 1), (WeakAcid.Malic, -1)));
    }

    [Fact]
    public void PhThatAcidCantReach_GivesNoDose()
    {
        var buffer = AcidBuffer.Fit(new(Ph.FromValue(3.4), AcidRows.Tartaric(6), AlcoholByVolume.FromPercent(12)), AcidProfile.GrapeWine)!;
        Assert.Null(AcidSupply.Powder(WeakAcid.Lactic).GramsPerLiterFor(buffer, Ph.FromValue(3.5)));
        Assert.Null(AcidSupply.Powder(WeakAcid.Lactic).GramsPerLiterFor(buffer, Ph.FromValue(1)));
    }

    [Fact]
    public void Supplies_CarryTheErrorOfTheirStrength()
    {
        Assert.Equal((0.01, 0.02, 0.25), (Named("powder").RelativeError, Named("lactic").RelativeError, Named("lemon").RelativeError));
        Assert.Equal(0.01, Named("blend").RelativeError);
        Assert.Equal(0.02 * Named("lactic").RiseOf(2).Value.MilliequivalentsPerLiter, Named("lactic").RiseOf(2).Tolerance, 1e-12);
        Assert.Throws<ArgumentOutOfRangeException>(() => AcidSupply.Liquid(WeakAcid.Lactic, 0.8, 0.7));
        Assert.Throws<ArgumentOutOfRangeException>(() => AcidSupply.Liquid(WeakAcid.Lactic, 0.8, 2.1));
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1.01)]
    public void ShareThatIsNone_IsRefused(double share) => Assert.Throws<ArgumentOutOfRangeException>(() => AcidSupply.Powder(WeakAcid.Citric, share));

    private static AcidSupply Named(string name) => name switch
    {
        "powder" => AcidSupply.Powder(WeakAcid.Tartaric),
        "monohydrate" => AcidSupply.Powder(WeakAcid.Citric, 0.914),
        "lactic" => AcidSupply.Liquid(WeakAcid.Lactic, 0.88, 1.21),
        "lemon" => AcidSupply.LemonJuice(),
        _ => AcidSupply.Blend((WeakAcid.Tartaric, 50), (WeakAcid.Malic, 30), (WeakAcid.Citric, 20)),
    };
}
