using FermentWatch.Oenology.Acidity;
using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Restart;
using FermentWatch.Oenology.Sulfite;
using FermentWatch.Oenology.Worksheets;

namespace FermentWatch.Oenology.Tests.Limits;

/// <summary>Figures, ranges and words of tables without a tolerance, where the product states the same thing.</summary>
public sealed class PublishedBoundsTests
{
    [Theory]
    [InlineData("LIM-process-criteria-015", "3.7", "confirmed")]
    [InlineData("LIM-process-criteria-016", "3.6", "confirmed")]
    public void PhOfBacteria_IsThePublished(string id, string printed, string status)
    {
        var row = Row("process-criteria.csv", id);
        Assert.Equal((printed, status), (row.Expected, row.Status));
        Assert.InRange(AcidRanges.BacteriaPh, 3.6, row.ExpectedNumber);
    }

    // 'Biologically available sugar that can referment: > 2 g/L': said where a wine is called dry.
    [Fact]
    public void SugarThatCanReferment_IsSaidBesideADryWord()
    {
        Assert.Equal("> 2", Row("process-criteria.csv", "LIM-process-criteria-002").Expected);
        var answer = WorksheetCatalog.Find("sweetness-word")!.Run(new Dictionary<string, string> { ["sugar"] = "3", ["titratable-acidity"] = "6" }).Answer!;
        Assert.Contains("2 g/L of sugar are enough", Assert.Single(answer.Notices).Text, StringComparison.Ordinal);
    }

    // A rule of the product, from memory: no published number of days was found.
    [Fact]
    public void TimeBeforeBottling_IsTheRuleThatIsShown()
    {
        var row = Row("process-criteria.csv", "LIM-process-criteria-010");
        Assert.Equal("from-memory", row.Status);
        Assert.StartsWith("3 equal readings over at least 2 weeks", row.Expected, StringComparison.Ordinal);
        Assert.Contains("at least two weeks", Caution.SteadyHydrometer.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void ToleranceOfYeastFromMemory_EndsWhereNoRestartIsPlanned()
    {
        var row = Row("process-criteria.csv", "LIM-process-criteria-011");
        Assert.Equal("from-memory", row.Status);
        Assert.StartsWith("about 14-18", row.Expected, StringComparison.Ordinal);
        Assert.Equal(18, RestartPlan.HighestTolerancePercent);
    }

    [Fact]
    public void Copper_IsLimitedAsPublished()
    {
        Assert.Contains("below 0.5 mg/L", Row("process-criteria.csv", "LIM-process-criteria-014").Expected, StringComparison.Ordinal);
        Assert.Equal(0.5, GuardRails.AbsoluteLimit(Additive.Copper, Law.Us, DoseContext.Unknown)!.Highest.MilligramsPerLiter, 9);
    }

    // The organic limit of white wine is what is recommended for all.
    [Fact]
    public void RecommendedTotalSulfite_IsTheOrganicLimit()
    {
        var row = Row("legal-limits.csv", "LIM-legal-limits-007");
        Assert.Equal(("100 / 150", "confirmed"), (row.Expected, row.Status));
        Assert.Equal(150, AdditiveRules.Of(Additive.SulfurDioxide).Recommended!.Highest.MilligramsPerLiter, 9);
    }

    // 8 lb for 1000 US gallons are 0.9586 g/L; the regulation prints 0.96, from memory.
    [Fact]
    public void EightPoundsForAThousandGallons_AreThePrintedLimit()
    {
        var row = Row("legal-limits.csv", "LIM-legal-limits-016");
        Assert.Equal(8 * 453.59237 / 3785.411784, row.ExpectedNumber, 4);
        Assert.Equal(row.ExpectedNumber, GuardRails.AbsoluteLimit(Additive.DiammoniumPhosphate, Law.Us, DoseContext.Unknown)!.Highest.GramsPerLiter, 2);
    }

    [Fact]
    public void TastedSorbicAcid_IsRecommendedToStayBelow()
    {
        Assert.StartsWith("135-", Row("sorbate.csv", "SUL-sorbate-040").Expected, StringComparison.Ordinal);
        Assert.Equal(135, AdditiveRules.Of(Additive.SorbicAcid).Recommended!.Highest.MilligramsPerLiter, 9);
    }

    // Molecular sulfur dioxide for stability, 0.6 to 0.8 mg/L: the usual target is its upper end.
    [Fact]
    public void MolecularTarget_LiesInThePublishedRange()
    {
        Assert.Equal("0.6-0.8", Row("additions-and-strength.csv", "SUL-additions-and-strength-023").Expected);
        var target = WorksheetCatalog.Find("sulfite-dose")!.Inputs.OfType<NumberInput>().Single(input => input.Key == "target-molecular");
        Assert.InRange(target.Usual!.Value, 0.6, 0.8);
    }

    // 20 to 40 mg/L of free sulfite usual against oxidation: what 0.8 mg/L molecular needs from pH 3.2 to 3.5.
    [Fact]
    public void FreeSulfiteAgainstOxidation_IsWhatThePhAsksFor()
    {
        var usual = Row("additions-and-strength.csv", "SUL-additions-and-strength-025").Numbers;
        Assert.All<double>([3.2, 3.3, 3.4, 3.5], ph => Assert.InRange(
            SulfurDioxide.FreeNeeded(SulfurDioxide.WhiteTarget, Ph.FromValue(ph)).Value.MilligramsPerLiter, usual[0] - 1, usual[1] + 1));
    }

    // Honey: 13 to 35 meq/kg usual, at most 50 by law; gluconic acid 3.91 to 11.71 g/kg.
    [Fact]
    public void AcidOfHoney_LiesInThePublishedRanges()
    {
        Assert.Equal("13-35", Row("ranges-and-balance.csv", "ACI-ranges-and-balance-008").Expected);
        Assert.Equal("50", Row("ranges-and-balance.csv", "ACI-ranges-and-balance-009").Expected);
        Assert.InRange(HoneyAcidity.MeanMilliequivalentsPerKilogram, 13, 35);
        Assert.StartsWith("3.91-11.71", Row("ranges-and-balance.csv", "ACI-ranges-and-balance-006").Expected, StringComparison.Ordinal);
        var gramsFor300 = AcidProfiles.MixtureOf(AcidProfile.Mead).GramsPerLiterOf(WeakAcid.Gluconic);
        Assert.InRange(gramsFor300, 0.3 * 3.91, 0.3 * 11.71);
    }

    // Printed as sulfuric acid: 0.49 g/L for a gram of potassium bicarbonate, 0.98 for one of calcium carbonate.
    [Theory]
    [InlineData("ACI-measured-changes-017", "potassium-bicarbonate")]
    [InlineData("ACI-measured-changes-019", "calcium-carbonate")]
    public void CarbonateOfTheHandbook_LowersTheAcidityAsPrinted(string id, string code)
    {
        var row = Row("measured-changes.csv", id);
        var carbonate = code == Carbonate.PotassiumBicarbonate.Code ? Carbonate.PotassiumBicarbonate : Carbonate.CalciumCarbonate;
        var equivalents = carbonate == Carbonate.PotassiumBicarbonate ? carbonate.FallWithoutSettling : carbonate.FallWithSettling;
        var sulfuric = equivalents / AcidBasis.Tartaric.GramsPerEquivalent() * AcidBasis.Sulfuric.GramsPerEquivalent();
        Assert.Equal(row.ExpectedNumber, sulfuric, 0.01);
    }

    private static ReferenceRow Row(string table, string id) => Assert.Single(ReferenceTable.Read(table), row => row.Id == id);
}
