using FermentWatch.Oenology.Alcohol;
using FermentWatch.Oenology.Blending;
using FermentWatch.Oenology.CarbonDioxide;
using FermentWatch.Oenology.Density;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Tests.Alcohol;

public sealed class AlcoholRelationsTests
{
    private const string Table = "alcohol_relations.csv";

    // Atomic masses rounded elsewhere: stoichiometry, so no row is independent of it.
    [Theory]
    [InlineData("alcohol_relations-001", CarbonDioxideYield.EthanolPerHexose)]
    [InlineData("alcohol_relations-002", CarbonDioxideYield.PerHexose)]
    [InlineData("alcohol_relations-004", CarbonDioxideYield.EthanolPerHexose * CarbonDioxideYield.PerSucrose / CarbonDioxideYield.PerHexose)]
    [InlineData("alcohol_relations-007", CarbonDioxideYield.PerHexose / CarbonDioxideYield.EthanolPerHexose)]
    public void YieldByAtomicMasses_Agrees(string id, double ours)
    {
        var row = Row(id);
        ReferenceCheck.Near(row, ours);
    }

    [Fact]
    public void RoundedYearbookFigures_Agree()
    {
        var row = Row("alcohol_relations-003");
        Assert.Equal("92;88", row.Expected);
        Assert.Equal(92, row.Input("hexose_g") * CarbonDioxideYield.EthanolPerHexose, row.ToleranceNumber);
        Assert.Equal(88, row.Input("hexose_g") * CarbonDioxideYield.PerHexose, row.ToleranceNumber);
    }

    // Balling's equation printed with four measured beers: the original that the balance of mass needs to give their alcohol at the gravity
    // that their alcohol and real extract make.
    [Fact]
    public void OriginalExtractByBalling_IsTheOneThatTheBalanceOfMassNeeds() => ReferenceCheck.AllAgree(
        Table, row => row.Quantity.StartsWith("original extract by Balling", StringComparison.Ordinal), rows: 4, independentRows: 0, OriginalExtract, _ => false);

    // 2.0665 g extract, of them 1.0665 g lost, for a gram of ethanol: the balance of mass, read off at two gravities of 15 °P.
    [Fact]
    public void BallingsFigures_ComeOutOfTheBalance()
    {
        const double Original = 15;
        foreach (var (alcohol, extract) in new[] { State(Original, 1.020), State(Original, 1.010) })
        {
            var ethanol = 100 * alcohol / (100 + (Row("alcohol_relations-009").ExpectedNumber * alcohol));
            Assert.Equal(extract, 100 * (Original - (Row("alcohol_relations-008").ExpectedNumber * ethanol)) / (100 - (Row("alcohol_relations-009").ExpectedNumber * ethanol)), 1e-3);
        }
    }

    // From memory, a sanity check only: 0.9565 g gas and 0.11 g yeast make up the confirmed sum.
    [Fact]
    public void SplitOfWhatIsLost_IsTheOneFromMemory()
    {
        Assert.Equal(GravityFromMassLoss.CarbonDioxidePerEthanol, Row("alcohol_relations-010").ExpectedNumber);
        Assert.Equal(Row("alcohol_relations-009").ExpectedNumber, Row("alcohol_relations-010").ExpectedNumber + Row("alcohol_relations-011").ExpectedNumber, 1e-9);
    }

    // A regression on measured beers of 9.4 to 18 °P, [Cutaia2009] table VI: the balance of mass meets it within 0.15 % of mass.
    [Fact]
    public void RegressionOfMeasuredBeers_IsMet()
    {
        var rows = ReferenceTable.Read(Table).Where(row => row.Quantity.StartsWith("alcohol by Cutaia", StringComparison.Ordinal)).ToList();
        Assert.Equal(3, rows.Count);
        Assert.All(rows, row =>
        {
            var (original, apparent) = (row.Input("original_extract_P"), row.Input("apparent_extract_P"));
            ReferenceCheck.Near(row, (0.372 + (0.00357 * original)) * (original - apparent));
            var present = SucroseSolution.GravityOf(Plato.FromDegrees(apparent)).Value;
            Assert.Equal(row.ExpectedNumber, State(original, present.Value).Alcohol, 0.15);
        });
    }

    // From memory, a sanity check only: the linear relation reads 0.1 to 0.6 °P low against the balance.
    [Fact]
    public void LinearRealExtractFromMemory_ReadsALittleLow()
    {
        var rows = ReferenceTable.Read(Table).Where(row => row.Quantity.StartsWith("real extract, Balling linear", StringComparison.Ordinal)).ToList();
        Assert.Equal(3, rows.Count);
        Assert.All(rows, row => Assert.InRange(
            State(row.Input("original_extract_P"), SucroseSolution.GravityOf(Plato.FromDegrees(row.Input("apparent_extract_P"))).Value.Value).Extract - row.ExpectedNumber, 0.05, 0.6));
    }

    private static ReferenceRow Row(string id) => Assert.Single(ReferenceTable.Read(Table), row => row.Id == id);

    /// <summary>Alcohol and real extract in percent of mass.</summary>
    private static (double Alcohol, double Extract) State(double originalPlato, double present)
    {
        var result = MassBalance.Of(SucroseSolution.GravityOf(Plato.FromDegrees(originalPlato)).Value, SpecificGravity.FromRatio(present));
        var density = present * 998.2012;
        return (result.Alcohol.Value.Percent * 789.24 / density, 100 * result.RealExtract.Value.GramsPerLiter / density);
    }

    private static double OriginalExtract(ReferenceRow row)
    {
        var (alcohol, extract) = (row.Input("alcohol_mass_percent"), row.Input("real_extract_P"));
        var ethanol = Liquid.Of(Volume.FromLiters(alcohol / 0.7892391), SpecificGravity.FromRatio(0.7892391 / 0.99820123), AlcoholByVolume.FromPercent(100));
        var present = (ethanol + Liquid.Solids(100 - ethanol.Kilograms, extract / (100 - ethanol.Kilograms))).Gravity.Value;
        var (low, high) = (extract, 30.0);
        for (var i = 0; i < 50; i++)
        {
            var middle = (low + high) / 2;
            (low, high) = State(middle, present).Alcohol < alcohol ? (middle, high) : (low, middle);
        }

        return low;
    }
}
