using FermentWatch.Oenology.Acidity;
using FermentWatch.Oenology.Must;
using FermentWatch.Oenology.Worksheets;

namespace FermentWatch.Oenology.Tests.Must;

/// <summary>Strengths of juice in trade are from memory, but for one: sanity checks only.</summary>
public sealed class JuiceStrengthTests
{
    private const string Table = "fruit_juice_brix.csv";

    [Fact]
    public void EveryFruitFromMemory_StandsInTheList()
    {
        var rows = ReferenceTable.Read(Table).Where(row => row.Quantity.StartsWith("100 % juice Brix: ", StringComparison.Ordinal) && row.Unit == "Bx").ToList();
        Assert.Equal(JuiceStrength.All.Count, rows.Count);
        Assert.All(rows, row =>
        {
            Assert.Equal("from-memory", row.Status);
            var code = CodeOf(row.Quantity["100 % juice Brix: ".Length..]);
            ReferenceCheck.Near(row, Assert.Single(JuiceStrength.All, one => one.Code == code).Brix);
        });
    }

    // Read: the least that orange juice from concentrate may hold; the strength from memory lies above it.
    [Fact]
    public void LeastOfOrangeJuice_LiesBelowItsStrength()
    {
        var row = Assert.Single(ReferenceTable.Read(Table), row => row.Status == "confirmed");
        Assert.Equal(11.2, row.ExpectedNumber);
        Assert.InRange(JuiceStrength.All.Single(one => one.Code == "orange").Brix, row.ExpectedNumber, row.ExpectedNumber + 1);
    }

    // Lemon and lime: 4.5 % of mass as citric acid, from memory.
    [Fact]
    public void AcidOfLemonJuice_IsTheOneFromMemory() => Assert.All(
        ReferenceTable.Read(Table).Where(row => row.Unit == "% acid"),
        row =>
        {
            Assert.Equal("from-memory", row.Status);
            var juice = AcidSupply.LemonJuice();
            ReferenceCheck.Near(row, 100 * juice.Acids.Single().Share);
        });

    [Fact]
    public void EveryChoiceOfTheSheet_GivesItsOwnFruit()
    {
        var sheet = WorksheetCatalog.Find("juice-sugar")!;
        var choices = sheet.Inputs.OfType<ChoiceInput>().Single().Choices;
        Assert.Equal(JuiceStrength.All.Select(one => one.Code), choices.Select(choice => choice.Code));
        Assert.All(JuiceStrength.All, one =>
        {
            var answer = sheet.Run(new Dictionary<string, string> { ["fruit"] = one.Code }).Answer!;
            Assert.Equal(one.Brix, answer.Results.OfType<NumberResult>().Single(result => result.Output.Key == "juice-brix").Value, 1e-9);
        });
    }

    // "cherry, dark sweet" is told as sweet-cherry, "currant, black" as black-currant.
    private static string CodeOf(string printed) => printed switch
    {
        "cherry, dark sweet" => "sweet-cherry",
        "cherry, red sour" => "sour-cherry",
        "currant, black" => "black-currant",
        "currant, red" => "red-currant",
        "raspberry, red" => "raspberry",
        _ => printed,
    };
}
