using FermentWatch.Oenology.Sweetening;

namespace FermentWatch.Oenology.Tests.Sweetening;

public sealed class RelativeSweetnessTests
{
    private const string Table = "relative_sweetness.csv";

    // Ranges from memory, a sanity check only; sucrose is 1 by definition.
    [Theory]
    [InlineData("sucrose")]
    [InlineData("fructose")]
    [InlineData("glucose")]
    [InlineData("maltose")]
    [InlineData("lactose")]
    public void RangesFromMemory_AreThoseOfTheTable(string sugar)
    {
        var ours = sugar switch
        {
            "sucrose" => RelativeSweetness.Sucrose,
            "fructose" => RelativeSweetness.Fructose,
            "glucose" => RelativeSweetness.Glucose,
            "maltose" => RelativeSweetness.Maltose,
            _ => RelativeSweetness.Lactose,
        };
        var (low, high) = (Row($"relative sweetness of {sugar}, low"), Row($"relative sweetness of {sugar}, high"));
        Assert.True(sugar == "sucrose" || low.Status == "from-memory");
        ReferenceCheck.Near(low, ours.Least);
        ReferenceCheck.Near(high, ours.Most);
        Assert.True(ours.Least <= ours.Most);
    }

    // Independent: published, read as an abstract.
    [Fact]
    public void Power_IsThePublished()
    {
        var row = Row("exponent of sweetness power function versus concentration");
        Assert.Equal("confirmed", row.Status);
        ReferenceCheck.Near(row, RelativeSweetness.Power);
        Assert.Equal(1, RelativeSweetness.OfConcentrationRatio(1));
        Assert.Equal(Math.Pow(2, row.ExpectedNumber), RelativeSweetness.OfConcentrationRatio(2), 0.4);
        Assert.Throws<ArgumentOutOfRangeException>(() => RelativeSweetness.OfConcentrationRatio(-1));
    }

    private static ReferenceRow Row(string quantity) => Assert.Single(ReferenceTable.Read(Table), row => row.Quantity == quantity);
}
