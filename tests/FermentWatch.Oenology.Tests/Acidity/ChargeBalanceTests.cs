using FermentWatch.Oenology.Acidity;
using FermentWatch.Oenology.Quantities;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;

namespace FermentWatch.Oenology.Tests.Acidity;

public sealed class ChargeBalanceTests
{
    private static readonly Solvent TwelvePercentStated = new(0.561, 0.014 * 12);

    // PHREEQC 3 of the US Geological Survey, 20 cases, and the primary pH standard of [StaplesBates1969].
    [Fact]
    public void PhreeqcCasesAndThePhStandard_AgreeWithTheStatedConstants() => ReferenceCheck.AllAgree(
        "ph-solver-cases.csv",
        _ => true,
        rows: 21,
        independentRows: 21,
        row => AcidRows.SolvedPh(row, Solvent.Water));

    [Fact]
    public void PhreeqcCases_AgreeWithTheConstantsThatAreShipped() => ReferenceCheck.AllAgree(
        "ph-solver-cases.csv",
        _ => true,
        rows: 21,
        independentRows: 21,
        row => AcidRows.SolvedPh(row, Solvent.Of(AlcoholByVolume.FromPercent(0)), WeakAcid.Succinic));

    // A second program of the same equations with the stated shift: it checks the arithmetic, not nature.
    [Fact]
    public void AlcoholicCases_AgreeWithTheStatedConstants() => ReferenceCheck.AllAgree(
        "ph-solver-cases-ethanol.csv",
        _ => true,
        rows: 12,
        independentRows: 0,
        row => AcidRows.SolvedPh(row, TwelvePercentStated),
        row => !row.Source.StartsWith("own charge-balance solver", StringComparison.Ordinal));

    [Fact]
    public void ChangesInAlcoholicCases_HardlyDependOnTheShift()
    {
        var rows = ReferenceTable.Read("ph-solver-cases-ethanol.csv");
        var shipped = Solvent.Of(AlcoholByVolume.FromPercent(12));
        foreach (var (first, count) in new[] { ("wine base A", 9), ("mead base G", 3) })
        {
            var ours = rows.Where(row => row.Quantity.Contains(first, StringComparison.Ordinal)).ToList();
            Assert.Equal(count, ours.Count);
            foreach (var row in ours.Skip(1).Where(row => !row.Quantity.Contains("diluted", StringComparison.Ordinal)))
            {
                var predicted = AcidRows.SolvedPh(row, shipped, WeakAcid.Succinic) - AcidRows.SolvedPh(ours[0], shipped, WeakAcid.Succinic);
                Assert.InRange(predicted - (row.ExpectedNumber - ours[0].ExpectedNumber), -0.01, 0.01);
            }
        }
    }

    [Fact]
    public void TitratableAcidity_AgreesWithASecondProgram() => ReferenceCheck.AllAgree(
        "malolactic-and-deacidification.csv",
        row => row.Inputs.ContainsKey("end_point_pH"),
        rows: 4,
        independentRows: 0,
        row =>
        {
            var isMead = row.Quantity.Contains("mead", StringComparison.Ordinal);
            var mixture = isMead ? AcidRows.MeadG : AcidRows.WineA;
            if (row.Quantity.Contains("after MLF", StringComparison.Ordinal))
            {
                mixture = mixture.MinusMoles(WeakAcid.Malic, 1).Plus(WeakAcid.Lactic, 1.344);
            }

            var ph = ChargeBalance.PhOf(mixture, (isMead ? 0.150 : 0.900) / AcidRows.Potassium, Solvent.Water).Value;
            var titrated = ChargeBalance.TitratableMilliequivalents(mixture, ph, Ph.FromValue(row.Input("end_point_pH")), Solvent.Water);
            return TitratableAcidity.FromMilliequivalentsPerLiter(titrated).GramsPerLiter(AcidBasis.Tartaric);
        },
        row => !row.Source.StartsWith("own charge-balance solver", StringComparison.Ordinal));

    // Leaving the activity out is the likeliest slip: it must show as up to 0.1 pH.
    [Fact]
    public void WithoutActivity_PhOfWineComesOutTooHigh()
    {
        var without = ChargeBalance.PhOf(AcidRows.WineA, 0.9 / AcidRows.Potassium, new Solvent(0, 0)).Value.Value;
        Assert.InRange(without - 3.219, 0.05, 0.12);
    }

    [Property(MaxTest = 200)]
    public Property CationsToPhAndBack_ReturnTheNumber() => Prop.ForAll(
        Numbers.Between(0.1, 8).ToArbitrary(),
        Numbers.Between(2.2, 9).ToArbitrary(),
        Numbers.Between(0, 15).ToArbitrary(),
        (scale, ph, alcohol) =>
        {
            var solvent = Solvent.Of(AlcoholByVolume.FromPercent(alcohol));
            var mixture = AcidRows.WineA.Scaled(scale);
            var cation = ChargeBalance.At(mixture, Ph.FromValue(ph), solvent).NetCationMolesPerLiter;
            return Math.Abs(ChargeBalance.PhOf(mixture, cation, solvent).Value.Value - ph) < 1e-9;
        });

    [Property(MaxTest = 200)]
    public Property MoreBaseRaisesPhAndMoreAcidLowersIt() => Prop.ForAll(
        Numbers.Between(0.001, 0.06).ToArbitrary(),
        Numbers.Between(0.0001, 0.02).ToArbitrary(),
        (cation, more) =>
        {
            var ph = ChargeBalance.PhOf(AcidRows.WineA, cation, Solvent.Water).Value;
            return ChargeBalance.PhOf(AcidRows.WineA, cation + more, Solvent.Water).Value > ph
                && ChargeBalance.PhOf(AcidRows.WineA.Plus(WeakAcid.Lactic, 100 * more), cation, Solvent.Water).Value < ph;
        });

    // The stated error of the solver: 0.003 to PHREEQC, whose value for the pH standard with these constants is 3.766.
    [Fact]
    public void PhreeqcCases_AgreeWithinTheStatedError() => Assert.All(ReferenceTable.Read("ph-solver-cases.csv"), row => Assert.InRange(
        AcidRows.SolvedPh(row, Solvent.Water) - (row.Inputs.ContainsKey("potassium_dihydrogen_citrate_mol_per_kg") ? 3.766 : row.ExpectedNumber),
        -0.0035,
        0.0035));

    // By definition: 0.01 mol/L of citrate with three charges and its 0.03 mol/L of cations have I = (0.03 + 9 x 0.01)/2 = 0.06; hydroxide of
    // pH 10 and its cations add 0.0001.
    [Fact]
    public void IonicStrengthOfACitrate_IsThatOfItsDefinition()
    {
        var balance = ChargeBalance.At(AcidMixture.OfGramsPerLiter((WeakAcid.Citric, 0.01 * WeakAcid.Citric.GramsPerMole)), Ph.FromValue(10), Solvent.Water);
        Assert.Equal(0.0601, balance.IonicStrength, 0.0001);
        Assert.Equal(0.0301, balance.NetCationMolesPerLiter, 0.0001);
    }

    // By hand at I = 0.25: sqrt 0.5, 0.5/1.5 - 0.075 = 0.2583; A 0.509; single charge 10^-0.1315.
    [Fact]
    public void Activity_IsThatOfTheDaviesEquation()
    {
        Assert.Equal(Math.Pow(10, -0.1315), Solvent.Water.ActivityOf(1, 0.25), 1e-4);
        Assert.Equal(Math.Pow(10, -0.5259), Solvent.Water.ActivityOf(2, 0.25), 1e-4);
        Assert.Equal(1, Solvent.Water.ActivityOf(0, 0.25));
        Assert.Equal(Solvent.Water.ActivityOf(1, 0.5), Solvent.Water.ActivityOf(1, 0.9));
        Assert.Equal(0.561, Solvent.Of(AlcoholByVolume.FromPercent(12)).DaviesA, 1e-12);
        Assert.Equal(Validity.WithinSource, Solvent.Of(AlcoholByVolume.FromPercent(15)).Validity);
        Assert.Equal(ChargeBalance.AbsolutePhTolerance, ChargeBalance.PhOf(AcidRows.WineA, 0.02, Solvent.Water).Tolerance);
    }

    [Fact]
    public void CationsNoPhHolds_AreMarked()
    {
        Assert.Equal(Validity.Extrapolated, ChargeBalance.PhOf(AcidMixture.Empty, 50, Solvent.Water).Validity);
        Assert.Equal(Validity.WithinSource, ChargeBalance.PhOf(AcidRows.WineA, 0.02, Solvent.Water).Validity);
        Assert.Equal(Validity.Extrapolated, ChargeBalance.PhOf(AcidRows.WineA, 0.02, Solvent.Of(AlcoholByVolume.FromPercent(16))).Validity);
    }

    [Fact]
    public void BaseBeyondTheEndPoint_IsNone() =>
        Assert.Equal(0, ChargeBalance.TitratableMilliequivalents(AcidRows.WineA, Ph.FromValue(9), Ph.FromValue(8.2), Solvent.Water));
}
