using FermentWatch.Oenology.Blending;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Sweetening;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;

namespace FermentWatch.Oenology.Tests.Sweetening;

public sealed class SweeteningTests
{
    // A balance of mass with a fixed volume of sugar, where ours comes from its density.
    [Fact]
    public void SugarToSweeten_AgreesWithTheBalance() => ReferenceCheck.AllAgree(
        "blending_mass_balance.csv", row => row.Quantity.StartsWith("sucrose to back-sweeten", StringComparison.Ordinal), rows: 3, independentRows: 0,
        row => 1000 * SweeteningPlan.ToSugar(
            Liquid.Of(Volume.FromLiters(row.Input("volume_L")), SpecificGravity.FromRatio(0.993), AlcoholByVolume.FromPercent(12)),
            SugarConcentration.FromGramsPerLiter(row.Input("sugar_g_per_L")),
            SugarConcentration.FromGramsPerLiter(row.Input("target_g_per_L")),
            Sweetener.Of(SweetenerKind.Sucrose))!.Value.Kilograms,
        independent: _ => false);

    [Fact]
    public void StillWords_AreThoseOfTheStandard()
    {
        var rows = ReferenceTable.Read("wine_sweetness_categories.csv").Where(row => row.Quantity == "EU still wine sweetness term").ToList();
        Assert.True(rows.Count >= 15);
        Assert.All(rows, row => Assert.Equal(
            row.Expected.Replace(" ", string.Empty, StringComparison.Ordinal),
            Sweetness.Of(SugarConcentration.FromGramsPerLiter(row.Input("sugar_g_per_L")), row.Input("total_acidity_g_per_L_tartaric")).ToString(),
            ignoreCase: true));
    }

    [Fact]
    public void SparklingWords_AreThoseOfTheRegulation()
    {
        var rows = ReferenceTable.Read("wine_sweetness_categories.csv").Where(row => row.Quantity.StartsWith("EU sparkling", StringComparison.Ordinal)).ToList();
        Assert.Equal(6, rows.Count);
        Assert.All(rows, row => Assert.Equal(
            row.Expected.Replace(" ", string.Empty, StringComparison.Ordinal).Replace("-", string.Empty, StringComparison.Ordinal),
            SparklingWords.Of(SugarConcentration.FromGramsPerLiter(row.Input("sugar_g_per_L")), row.Inputs["dosage_added"] == "yes").ToString(),
            ignoreCase: true));
    }

    [Fact]
    public void VolumeAfterSugar_AgreesWithTheBalance() => ReferenceCheck.AllAgree(
        "blending_mass_balance.csv", row => row.Quantity == "volume after back-sweetening", rows: 1, independentRows: 0,
        row => SweeteningPlan.ToSugar(
            Liquid.Of(Volume.FromLiters(row.Input("volume_L")), SpecificGravity.FromRatio(0.993), AlcoholByVolume.FromPercent(12)),
            SugarConcentration.FromGramsPerLiter(row.Input("sugar_g_per_L")),
            SugarConcentration.FromGramsPerLiter(row.Input("target_g_per_L")),
            Sweetener.Of(SweetenerKind.Sucrose))!.Value.Wine.Volume.Liters,
        independent: _ => false);

    // Figures of the regulation, digit for digit.
    [Fact]
    public void SparklingLimits_AreThoseOfTheRegulation()
    {
        var rows = ReferenceTable.Read("wine_sweetness_categories.csv").Where(row => row.Quantity.StartsWith("sparkling limit", StringComparison.Ordinal)).ToList();
        Assert.Equal(10, rows.Count);
        Assert.All(rows, row =>
        {
            var words = row.Quantity["sparkling limit: ".Length..].Split(" (")[0];
            var name = words[..words.LastIndexOf(' ')].Replace(" ", string.Empty, StringComparison.Ordinal).Replace("-", string.Empty, StringComparison.Ordinal);
            var word = Enum.Parse<SparklingSweetness>(name, ignoreCase: true);
            Assert.Equal(row.ExpectedNumber, words.EndsWith("upper", StringComparison.Ordinal) ? SparklingWords.HighestOf(word) : SparklingWords.LowestOf(word));
        });
    }

    [Theory]
    [InlineData(2.9, false, SparklingSweetness.BrutNature)]
    [InlineData(2.9, true, SparklingSweetness.ExtraBrut)]
    [InlineData(3, false, SparklingSweetness.ExtraBrut)]
    [InlineData(6, true, SparklingSweetness.ExtraBrut)]
    [InlineData(6.1, true, SparklingSweetness.Brut)]
    [InlineData(12, true, SparklingSweetness.ExtraDry)]
    [InlineData(17, true, SparklingSweetness.ExtraDry)]
    [InlineData(17.1, true, SparklingSweetness.Dry)]
    [InlineData(32.1, true, SparklingSweetness.DemiSec)]
    [InlineData(50, true, SparklingSweetness.DemiSec)]
    [InlineData(50.1, false, SparklingSweetness.Sweet)]
    public void SugarAtALimit_FallsOnTheSideOfTheText(double sugar, bool added, SparklingSweetness expected) =>
        Assert.Equal(expected, SparklingWords.Of(SugarConcentration.FromGramsPerLiter(sugar), added));

    [Fact]
    public void PearsonSquare_IsTheTextbookRule()
    {
        var rows = ReferenceTable.Read("blending_mass_balance.csv").Where(row => row.Quantity.StartsWith("Pearson square parts", StringComparison.Ordinal)).ToList();
        Assert.Equal(2, rows.Count);
        Assert.All(rows, row =>
        {
            var (rich, poor) = PearsonSquare.Parts(row.Input("high"), row.Input("low"), row.Input("target"))!.Value;
            Assert.Equal(row.Expected, FormattableString.Invariant($"{rich}:{poor}"));
        });
        Assert.Null(PearsonSquare.Parts(65, 12, 70));
        Assert.Null(PearsonSquare.Parts(65, 12, 11));
        Assert.Null(PearsonSquare.Parts(12, 12, 12));
    }

    [Property(MaxTest = 300)]
    public Property SweetenerFound_GivesTheSugarWantedAndKeepsTheMass() => Prop.ForAll(
        Numbers.Between(0, 30).ToArbitrary(),
        Numbers.Between(0.5, 120).ToArbitrary(),
        Gen.Elements(Enum.GetValues<SweetenerKind>()).ToArbitrary(),
        (there, more, kind) =>
        {
            var (wine, sweetener) = (Wine(20), Sweetener.Of(kind));
            var plan = SweeteningPlan.ToSugar(wine, Grams(there), Grams(there + more), sweetener)!.Value;
            var sugar = ((there * wine.Volume.Liters) + (1000 * sweetener.SugarFraction * plan.Kilograms)) / plan.Wine.Volume.Liters;
            return Math.Abs(plan.Sugar.GramsPerLiter - there - more) < 1e-9
                && Math.Abs(sugar - there - more) < 1e-9
                && Math.Abs(plan.Wine.Kilograms - wine.Kilograms - plan.Kilograms) < 1e-9
                && Math.Abs(plan.Wine.EthanolKilograms - wine.EthanolKilograms) < 1e-12;
        });

    [Property(MaxTest = 300)]
    public Property SweetenerFound_GivesTheGravityWanted() => Prop.ForAll(
        Numbers.Between(0.0005, 0.06).ToArbitrary(),
        Gen.Elements(Enum.GetValues<SweetenerKind>()).ToArbitrary(),
        (more, kind) => Math.Abs(
            SweeteningPlan.ToGravity(Wine(20), Grams(0), SpecificGravity.FromRatio(0.992 + more), Sweetener.Of(kind))!.Value.Wine.Gravity.Value - 0.992 - more) < 1e-9);

    [Property(MaxTest = 300)]
    public Property SweeterWine_NeedsMoreAndIsWeaker() => Prop.ForAll(
        Numbers.Between(1, 150).ToArbitrary(),
        Numbers.Between(0.1, 20).ToArbitrary(),
        (target, more) =>
        {
            var (less, sweet) = (To(target), To(target + more));
            return sweet.Kilograms > less.Kilograms && sweet.Wine.Volume.Liters > less.Wine.Volume.Liters && sweet.Wine.Alcohol < less.Wine.Alcohol
                && sweet.Wine.Gravity > less.Wine.Gravity;
        });

    // The words climb with the sugar, each sugar lies in its word, and more acid never makes a word sweeter.
    [Property(MaxTest = 500)]
    public Property Words_ClimbWithTheSugarAndHoldIt() => Prop.ForAll(
        Numbers.Between(0, 120).ToArbitrary(),
        Numbers.Between(0, 20).ToArbitrary(),
        Numbers.Between(0, 12).ToArbitrary(),
        (sugar, more, acidity) =>
        {
            var word = Sweetness.Of(Grams(sugar), acidity);
            return Sweetness.Of(Grams(sugar + more), acidity) >= word
                && Sweetness.Of(Grams(sugar), acidity + 1) <= word
                && sugar >= Sweetness.LowestOf(word, acidity) && sugar <= Sweetness.HighestOf(word, acidity)
                && SparklingWords.Of(Grams(sugar + more), true) >= SparklingWords.Of(Grams(sugar), true)
                && sugar >= SparklingWords.LowestOf(SparklingWords.Of(Grams(sugar), true)) && sugar <= SparklingWords.HighestOf(SparklingWords.Of(Grams(sugar), true));
        });

    [Fact]
    public void AimThatIsReachedOrOutOfReach_GivesNoPlan()
    {
        Assert.Null(SweeteningPlan.ToSugar(Wine(20), Grams(20), Grams(10), Sweetener.Of(SweetenerKind.Sucrose)));
        Assert.Null(SweeteningPlan.ToSugar(Wine(20), Grams(0), Grams(150), Sweetener.Of(SweetenerKind.Syrup, brix: 10)));
        Assert.Null(SweeteningPlan.ToGravity(Wine(20), Grams(0), SpecificGravity.FromRatio(0.991), Sweetener.Of(SweetenerKind.Sucrose)));
        Assert.Throws<ArgumentOutOfRangeException>(() => Sweetener.Of(SweetenerKind.Honey, 50));
        Assert.Throws<ArgumentOutOfRangeException>(() => Sweetener.Of(SweetenerKind.Syrup, brix: 90));
    }

    private static SweeteningPlan To(double target) => SweeteningPlan.ToSugar(Wine(20), Grams(0), Grams(target), Sweetener.Of(SweetenerKind.Sucrose))!.Value;

    private static Liquid Wine(double liters) => Liquid.Of(Volume.FromLiters(liters), SpecificGravity.FromRatio(0.992), AlcoholByVolume.FromPercent(12));

    private static SugarConcentration Grams(double perLiter) => SugarConcentration.FromGramsPerLiter(perLiter);
}
