using FermentWatch.Oenology.Acidity;
using FermentWatch.Oenology.BenchTrials;

namespace FermentWatch.Oenology.Tests.BenchTrials;

public sealed class TrialPhTests
{
    private static readonly BenchWine Wine = new(19, 0.2, 0.994, 13, 3.78, 5.5);

    [Fact]
    public void Control_KeepsTheMeasuredPh() => Assert.Equal(3.78, TrialPh.For(AcidProfile.GrapeWine)(Wine, 1, [])!.Value.Value, 0.002);

    // Two trials of real red wines, by bench [WRE2021]: 0.86 g/L tartaric acid from pH 3.95 to 3.69, 1.25 g/L from 3.78 to 3.56. Their acidity
    // is not printed: 5 to 5.5 g/L as tartaric, usual for a red of that pH (from memory).
    [Theory]
    [InlineData("BEN-worked-examples-018", 5.0)]
    [InlineData("BEN-worked-examples-018", 5.5)]
    [InlineData("BEN-worked-examples-019", 5.0)]
    [InlineData("BEN-worked-examples-019", 5.5)]
    public void RealTrials_LieInsideTheStatedError(string id, double acidity)
    {
        var row = Assert.Single(ReferenceTable.Read("bench-trials.csv"), row => row.Id == id);
        var wine = Wine with { Ph = row.Input("ph_start"), TitratableAcidityGramsPerLiter = acidity };
        var predicted = TrialPh.For(AcidProfile.GrapeWineAfterMalolactic)(wine, 1, [new(TrialAdditive.Tartaric, row.ExpectedNumber)])!.Value;
        Assert.InRange(row.Input("ph_target"), predicted.Value - predicted.Tolerance, predicted.Value + predicted.Tolerance);
        Assert.True(predicted.Value < wine.Ph);
    }

    [Fact]
    public void MoreAcid_LowersPhMoreAndBicarbonateRaisesItWithAWiderError()
    {
        var model = TrialPh.For(AcidProfile.GrapeWine);
        double Ph(TrialAdditive additive, double dose) => model(Wine, 1, [new(additive, dose)])!.Value.Value;
        Assert.True(Ph(TrialAdditive.Tartaric, 2) < Ph(TrialAdditive.Tartaric, 1));
        Assert.True(Ph(TrialAdditive.Tartaric, 1) < Ph(TrialAdditive.Lactic, 1));
        Assert.All(new[] { TrialAdditive.Tartaric, TrialAdditive.Malic, TrialAdditive.Citric, TrialAdditive.Lactic }, acid => Assert.True(Ph(acid, 1) < 3.75));
        var carbonate = model(Wine, 1, [new(TrialAdditive.PotassiumBicarbonate, 1)])!.Value;
        Assert.True(carbonate.Value > 3.78);
        Assert.True(carbonate.Tolerance > 0.05 + (0.8 * (carbonate.Value - 3.78)));
    }

    [Fact]
    public void Sugar_MovesPhByItsThinningOnly() =>
        Assert.Equal(3.78, TrialPh.For(AcidProfile.GrapeWine)(Wine, 0.98, [new(TrialAdditive.Sucrose, 30)])!.Value.Value, 0.02);

    [Fact]
    public void UnknownAcidity_IsNotPredictedFrom()
    {
        Assert.Null(TrialPh.For(AcidProfile.GrapeWine)(Wine with { Ph = null }, 1, []));
        Assert.Null(TrialPh.For(AcidProfile.GrapeWine)(Wine with { TitratableAcidityGramsPerLiter = null }, 1, []));
        Assert.Null(TrialPh.For(AcidProfile.GrapeWine)(Wine with { TitratableAcidityGramsPerLiter = 0.001, Ph = 2.6 }, 1, []));
    }

    [Fact]
    public void Trial_PredictsPhOnlyWhenTheAcidsAreNamed()
    {
        var request = BenchScenario.Ladder(TrialAdditive.Tartaric, 0.5, 1, 1.5);
        var without = TrialPlanning.Plan(request);
        Assert.Null(without.Trial!.Predict(without.Trial.Current.Glasses[1]).Ph);
        Assert.Contains(without.Notices, notice => notice.Code == BenchNoticeCodes.PhNotPredicted);

        var with = TrialPlanning.Plan(request with { Acids = AcidProfile.Mead });
        var phs = with.Trial!.Current.Glasses.Take(4).Select(glass => with.Trial.Predict(glass).Ph!.Value.Value).ToList();
        Assert.Equal(phs.OrderDescending(), phs);
        Assert.Contains(with.Notices, notice => notice.Code == BenchNoticeCodes.PhPredicted);
        Assert.Contains("\"Acids\":\"Mead\"", BenchTrialJson.Write(with.Trial), StringComparison.Ordinal);
        Assert.Equal(AcidProfile.Mead, BenchTrialJson.Read(BenchTrialJson.Write(with.Trial)).Request.Acids);
    }
}
