using FermentWatch.Oenology.Acidity;
using FermentWatch.Oenology.CarbonDioxide;
using FermentWatch.Oenology.Must;
using FermentWatch.Oenology.Sweetening;

namespace FermentWatch.Oenology.Tests.Sweetening;

/// <summary>What a gram of each sweetener brings, against composition tables.</summary>
public sealed class CompositionTests
{
    private const string Table = "composition.csv";

    // The entry of the food table is what the honey here was made from: it holds the arithmetic.
    [Fact]
    public void HoneyOfTheFoodTable_HasItsSugar()
    {
        var honey = Sweetener.Of(SweetenerKind.Honey, Row("composition-001").ExpectedNumber);
        Assert.Equal(100 - Row("composition-001").ExpectedNumber, 100 * honey.ExtractFraction, Row("composition-001").ToleranceNumber);
        ReferenceCheck.Near(Row("composition-002"), 100 * honey.SugarFraction);
    }

    // Mean honeys of the United States: five sugars, of which 77.9 g are named. The rest up to 82 g are sugars that were told together.
    [Fact]
    public void MeanHoney_IsTheUsualOne()
    {
        Assert.Equal(Honey.UsualWaterPercent, Row("composition-007").ExpectedNumber);
        var (fructose, glucose) = (Row("composition-003").ExpectedNumber, Row("composition-004").ExpectedNumber);
        var (maltose, sucrose) = (Row("composition-005").ExpectedNumber, Row("composition-006").ExpectedNumber);
        var named = fructose + glucose + maltose + sucrose;
        Assert.InRange(named, 75, 100 * Sweetener.Of(SweetenerKind.Honey).SugarFraction);
        var hexose = fructose + glucose + ((maltose + sucrose) * Row("composition-027").ExpectedNumber);
        Assert.Equal(PrimingSugar.HoneyHexoseOfDryMatter, hexose / (100 - Honey.UsualWaterPercent), 0.001);
    }

    [Fact]
    public void DextroseMonohydrate_HasItsGlucoseByStoichiometry()
    {
        var dextrose = Sweetener.Of(SweetenerKind.DextroseMonohydrate);
        ReferenceCheck.Near(Row("composition-026"), dextrose.SugarFraction);
        ReferenceCheck.Near(Row("composition-025"), 100 * (1 - dextrose.ExtractFraction));
    }

    [Fact]
    public void HexoseOfSucrose_IsThatOfStoichiometry()
    {
        var row = Row("composition-027");
        ReferenceCheck.Near(row, CarbonDioxideYield.PerSucrose / CarbonDioxideYield.PerHexose);
    }

    // Bounds of standards: what is sold as such must hold at least so much, and what is taken here lies above.
    [Fact]
    public void SugarsOfTheStandards_LieWithinTheirBounds()
    {
        Assert.True(100 * Sweetener.Of(SweetenerKind.BrownSugar).SugarFraction >= Row("composition-022").ExpectedNumber);
        Assert.True(100 * Sweetener.Of(SweetenerKind.DextroseMonohydrate).ExtractFraction >= Row("composition-023").ExpectedNumber);
        Assert.True(100 * Sweetener.Of(SweetenerKind.Dextrose).SugarFraction >= Row("composition-024").ExpectedNumber);
        Assert.True(100 * Sweetener.Of(SweetenerKind.Sucrose).SugarFraction >= Row("composition-021").ExpectedNumber);
        Assert.True(Honey.UsualWaterPercent <= Row("composition-008").ExpectedNumber);
        Assert.True(Row("composition-009").ExpectedNumber <= Honey.HighestWaterPercent);
    }

    // Bounds of the honey laws: fructose and glucose of the mean honey, its sucrose and its acid lie within; honeydew may hold less.
    [Fact]
    public void MeanHoney_LiesWithinTheLaw()
    {
        var simple = Row("composition-003").ExpectedNumber + Row("composition-004").ExpectedNumber;
        Assert.True(simple >= Row("composition-010").ExpectedNumber);
        Assert.True(Row("composition-011").ExpectedNumber < Row("composition-010").ExpectedNumber);
        Assert.True(Row("composition-006").ExpectedNumber <= Row("composition-012").ExpectedNumber);
        Assert.True(HoneyAcidity.MeanMilliequivalentsPerKilogram <= Row("composition-013").ExpectedNumber);
        Assert.Equal("from-memory", Row("composition-015").Status);
        Assert.Equal([Row("composition-008").ExpectedNumber, Row("composition-010").ExpectedNumber, Row("composition-012").ExpectedNumber], Row("composition-015").Numbers);
    }

    // From memory, a sanity check only.
    [Fact]
    public void BrownSugarFromMemory_IsNear()
    {
        var brown = Sweetener.Of(SweetenerKind.BrownSugar);
        Assert.Equal(("from-memory", "from-memory"), (Row("composition-028").Status, Row("composition-029").Status));
        ReferenceCheck.Near(Row("composition-028"), 100 * brown.SugarFraction);
        ReferenceCheck.Near(Row("composition-029"), 100 * (1 - brown.ExtractFraction));
    }

    private static ReferenceRow Row(string id) => Assert.Single(ReferenceTable.Read(Table), row => row.Id == id);
}
