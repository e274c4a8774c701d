using FermentWatch.Oenology.Density;
using FermentWatch.Oenology.Nutrients;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Restart;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;

namespace FermentWatch.Oenology.Tests.Nutrients;

public sealed class NutrientTests
{
    [Fact]
    public void NitrogenOfTheSalt_Agrees() => ReferenceCheck.AllAgree(
        "yan-and-dap.csv", row => row.Inputs.ContainsKey("dose_g_per_L"), rows: 3, independentRows: 0,
        row => DiammoniumPhosphate.MilligramsNitrogenPerLiter(row.Input("dose_g_per_L")),
        independent: _ => false);

    [Fact]
    public void SaltForALack_Agrees() => ReferenceCheck.AllAgree(
        "yan-and-dap.csv", row => row.Inputs.ContainsKey("n_deficit_mg_per_L"), rows: 2, independentRows: 0,
        row => DiammoniumPhosphate.GramsFor(row.Input("n_deficit_mg_per_L"), Volume.FromLiters(row.Input("volume_L"))),
        independent: _ => false);

    [Fact]
    public void AdiabaticRise_Agrees() => ReferenceCheck.AllAgree(
        "heat-and-temperature.csv", row => row.Inputs.ContainsKey("sugar_fermented_g_per_L"), rows: 3, independentRows: 0,
        row => FermentationHeat.RiseKelvin(SugarConcentration.FromGramsPerLiter(row.Input("sugar_fermented_g_per_L")), row.Input("heat_capacity_kJ_per_L_K")).Value);

    // Atomic masses: no row is independent of them.
    [Fact]
    public void SaltByAtomicMasses_Agrees()
    {
        var fraction = Row("NUT-yan-and-dap-002");
        ReferenceCheck.Near(fraction, DiammoniumPhosphate.NitrogenFraction);
        var mass = Row("NUT-yan-and-dap-001");
        ReferenceCheck.Near(mass, 2 * 14.007 / DiammoniumPhosphate.NitrogenFraction);
    }

    // Printed by a page of the trade, for the pound and the gallon of the United States.
    [Fact]
    public void PrintedNitrogenOfAPound_Agrees() => ReferenceCheck.AllAgree(
        "yan-and-dap.csv", row => row.Inputs.ContainsKey("dose_lb_per_1000gal"), rows: 1, independentRows: 1,
        row => DiammoniumPhosphate.MilligramsNitrogenPerLiter(row.Input("dose_lb_per_1000gal") * 453.59237 / 3785.411784));

    // From memory, a sanity check only: the table by °Brix was not found in any text.
    [Fact]
    public void UsualTargetByBrixFromMemory_IsNear()
    {
        var rows = ReferenceTable.Read("yan-and-dap.csv").Where(row => row.Inputs.ContainsKey("brix") && row.Unit == "mg N/L").ToList();
        Assert.Equal(7, rows.Count);
        Assert.All(rows, row =>
        {
            Assert.Equal("from-memory", row.Status);
            ReferenceCheck.Near(row, NitrogenTarget.For(GravityUnits.GravityOfBrix(row.Input("brix")), false).Usual);
        });
    }

    // Published bounds, written as figure or range.
    [Fact]
    public void RangeOfTheTarget_IsThePublished()
    {
        Assert.Equal(("150", "140-500", "100"), (Row("NUT-yan-and-dap-012").Expected, Row("NUT-yan-and-dap-013").Expected, Row("NUT-yan-and-dap-014").Expected));
        foreach (var isMead in new[] { true, false })
        {
            for (var points = 30; points <= 170; points += 10)
            {
                var target = NitrogenTarget.For(SpecificGravity.FromPoints(points), isMead);
                Assert.Equal(150, target.Lowest);
                Assert.InRange(target.Usual, target.Lowest, target.Highest);
                Assert.InRange(target.Highest, 140, 500);
            }
        }
    }

    // Mead: 150 was best in one study; 267 is from memory; a trial of 25.5 °Bx got 0.7 g/L of the salt at the start, 148 mg N/L.
    [Fact]
    public void RangeOfMead_HoldsWhatWasTried()
    {
        var best = Row("NUT-mead-nitrogen-001");
        Assert.Equal(("150", "confirmed"), (best.Expected, best.Status));
        var tried = Row("NUT-mead-nitrogen-016");
        Assert.Equal(("267", "from-memory"), (tried.Expected, tried.Status));
        var target = NitrogenTarget.For(GravityUnits.GravityOfBrix(25.5), isMead: true);
        Assert.Equal(best.ExpectedNumber, target.Lowest);
        Assert.InRange(tried.ExpectedNumber, target.Usual - 1e-9, target.Highest);
        Assert.StartsWith("0.7 at start", Row("NUT-yan-and-dap-015").Expected, StringComparison.Ordinal);
        Assert.InRange(DiammoniumPhosphate.MilligramsNitrogenPerLiter(0.7), target.Lowest - 5, target.Highest);
    }

    [Fact]
    public void LackOfAnUnsupplementedMust_IsFilledAndSplitAsComputed()
    {
        var (whole, half) = (Row("NUT-mead-nitrogen-012"), Row("NUT-mead-nitrogen-013"));
        var grams = DiammoniumPhosphate.GramsFor(whole.Input("target") - whole.Input("yan_start"), Volume.FromLiters(whole.Input("batch_L")));
        ReferenceCheck.Near(whole, grams);
        var gravity = SpecificGravity.FromRatio(1.100);
        var plan = NutrientPlan.For(gravity, gravity, (int)half.Input("parts"), 24, grams, 0);
        Assert.All(plan.Marks, mark => ReferenceCheck.Near(half, mark.InorganicGrams));
        Assert.Equal([0, 1.0 / 3], plan.Marks.Select(mark => mark.SugarConsumed), (one, other) => Math.Abs(one - other) < 1e-6);
    }

    // "About one third of sugar used" is read; the 9 % vol are from memory.
    [Fact]
    public void LastMomentOfInorganicNitrogen_IsThePublished()
    {
        Assert.Equal("about one third of sugar used", Row("NUT-yan-and-dap-025").Expected);
        Assert.Equal(1.0 / 3, DiammoniumPhosphate.LatestShare);
        Assert.Contains("about 9 % ABV", Row("NUT-yan-and-dap-026").Expected, StringComparison.Ordinal);
        Assert.Equal(9, DiammoniumPhosphate.LatestAlcoholPercent);
    }

    [Fact]
    public void HeatOfAGram_IsThePublishedHeatOfAMole()
    {
        var (kilocalories, kilojoules, gram) = (Heat("001"), Heat("002"), Heat("003"));
        ReferenceCheck.Near(kilocalories, FermentationHeat.KilojoulesPerGram * 180.156 / 4.184);
        ReferenceCheck.Near(kilojoules, FermentationHeat.KilojoulesPerGram * 180.156);
        ReferenceCheck.Near(gram, FermentationHeat.KilojoulesPerGram);
        Assert.Equal(gram.ExpectedNumber * 1e6 / 86_400, FermentationHeat.Watts(SugarConcentration.FromGramsPerLiter(1), Volume.FromLiters(1000)), 0.05);
    }

    // From memory, a sanity check only: 1.3 K for each °Brix.
    [Fact]
    public void RiseOfADegreeFromMemory_IsNear()
    {
        var row = Heat("008");
        Assert.Equal("from-memory", row.Status);
        var sugar = SucroseSolution.GramsPerLiterOf(GravityUnits.GravityOfBrix(20)).Value.GramsPerLiter / 20;
        ReferenceCheck.Near(row, FermentationHeat.RiseKelvin(SugarConcentration.FromGramsPerLiter(sugar)).Value);
    }

    // Bounds that the plan for a stopped ferment judges by: dead within hours above 34, slow below 15 °C.
    [Fact]
    public void TemperaturesOfYeast_AreThePublished()
    {
        ReferenceCheck.Near(Heat("011"), RestartPlan.HotCelsius);
        Assert.Equal(RestartPlan.ColdCelsius, Heat("009").ExpectedNumber);
    }

    [Theory]
    [InlineData(1.050)]
    [InlineData(1.100)]
    [InlineData(1.160)]
    public void FourMarks_GiveEverythingBeforeAThird(double original)
    {
        var gravity = SpecificGravity.FromRatio(original);
        var plan = NutrientPlan.For(gravity, gravity, 4, 24, 20, 12);
        Assert.Equal(["onset", "climb", "swell", "third"], plan.Marks.Select(mark => mark.Code));
        Assert.Equal(20, plan.Marks.Sum(mark => mark.InorganicGrams), 9);
        Assert.Equal(12, plan.Marks.Sum(mark => mark.OrganicGrams), 9);
        Assert.All(plan.Marks, mark => Assert.InRange(mark.SugarConsumed, 0, 0.3334));
        Assert.Equal(plan.Marks.OrderByDescending(mark => mark.Gravity.Value).Select(mark => mark.Code), plan.Marks.Select(mark => mark.Code));
    }

    [Fact]
    public void PastAThird_NothingInorganicIsGiven()
    {
        var plan = NutrientPlan.For(SpecificGravity.FromRatio(1.100), SpecificGravity.FromRatio(1.040), 4, 24, 20, 12);
        Assert.True(plan.InorganicIsLate);
        Assert.Equal(0, plan.Marks.Sum(mark => mark.InorganicGrams));
        Assert.Equal(12, plan.Marks.Sum(mark => mark.OrganicGrams));
    }

    [Property(MaxTest = 300)]
    public Property SaltForALackAndBack_ReturnsTheNumber() => Prop.ForAll(
        Numbers.Between(0, 500).ToArbitrary(),
        Numbers.Between(0.5, 5000).ToArbitrary(),
        (nitrogen, liters) => Math.Abs(
            DiammoniumPhosphate.MilligramsNitrogenPerLiter(DiammoniumPhosphate.GramsFor(nitrogen, Volume.FromLiters(liters)) / liters) - nitrogen) < 1e-9);

    // Whatever the batch: every gram is given once, gravities fall, nothing inorganic after a third of the sugar or past 9 % vol.
    [Property(MaxTest = 300)]
    public Property Plan_GivesEveryGramAndNothingInorganicLate() => Prop.ForAll(
        Numbers.Between(1.03, 1.17).ToArbitrary(),
        Numbers.Between(0, 0.5).ToArbitrary(),
        Gen.Choose(1, 4).ToArbitrary(),
        (original, share, parts) =>
        {
            var (start, present) = (SpecificGravity.FromRatio(original), SpecificGravity.FromRatio(original - (share * (original - 1))));
            var plan = NutrientPlan.For(start, present, parts, 24, 20, 12);
            var inorganic = plan.Marks.Sum(mark => mark.InorganicGrams);
            return Math.Abs(plan.Marks.Sum(mark => mark.OrganicGrams) - 12) < 1e-9
                && Math.Abs(inorganic - (plan.InorganicIsLate ? 0 : 20)) < 1e-9
                && plan.Marks.All(mark => mark.InorganicGrams <= 0 || mark.SugarConsumed <= (1.0 / 3) + 1e-6)
                && plan.Marks.Zip(plan.Marks.Skip(1)).All(pair => pair.Second.Gravity < pair.First.Gravity && pair.Second.Hours > pair.First.Hours);
        });

    [Property(MaxTest = 300)]
    public Property RicherMust_WantsNoLessNitrogenAndWarmsMore() => Prop.ForAll(
        Numbers.Between(1.03, 1.16).ToArbitrary(),
        Numbers.Between(0.001, 0.01).ToArbitrary(),
        (ratio, more) =>
        {
            double Usual(double gravity) => NitrogenTarget.For(SpecificGravity.FromRatio(gravity), false).Usual;
            double Rise(double gravity) => FermentationHeat.RiseKelvin(SucroseSolution.GramsPerLiterOf(SpecificGravity.FromRatio(gravity)).Value).Value;
            return Usual(ratio + more) >= Usual(ratio) && Rise(ratio + more) > Rise(ratio);
        });

    private static ReferenceRow Row(string id) => Assert.Single(
        ReferenceTable.Read(id.StartsWith("NUT-mead", StringComparison.Ordinal) ? "mead-nitrogen.csv" : "yan-and-dap.csv"), row => row.Id == id);

    private static ReferenceRow Heat(string place) => Assert.Single(ReferenceTable.Read("heat-and-temperature.csv"), row => row.Id == "NUT-heat-and-temperature-" + place);
}
