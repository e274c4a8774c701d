using FermentWatch.Oenology.BenchTrials;
using FermentWatch.Oenology.Worksheets;

namespace FermentWatch.Oenology.Tests.BenchTrials;

public sealed class StockPlanningTests
{
    // USP <41>: a repeatability below 0.41 d counts as 0.41 d, and twice it over the mass must not be above the tolerance. With d = 0.0001 g and
    // its tolerance of 0.001 that is the well-known 82 mg (0.82 g for d = 0.001).
    [Theory]
    [InlineData(0.0001, 0.001, 0.082)]
    [InlineData(0.001, 0.001, 0.82)]
    [InlineData(0.01, 0.05, 0.164)]
    [InlineData(1, 0.05, 16.4)]
    public void SmallestWeighable_FollowsTheRepeatabilityRule(double division, double tolerance, double grams) =>
        Assert.Equal(grams, new WeighingScale("any", 500, division).SmallestWeighableGrams(tolerance), 1e-9);

    // Five readings by hand: mean 10.02, deviations -0.02, 0, 0.02, -0.01, 0.01; squares 0.0010; s = sqrt(0.0010/4).
    [Fact]
    public void RepeatTest_GivesTheStandardDeviation()
    {
        Assert.Equal(Math.Sqrt(0.0010 / 4), WeighingScale.RepeatabilityOf([10.00, 10.02, 10.04, 10.01, 10.03]), 1e-12);
        Assert.Throws<ArgumentException>(() => WeighingScale.RepeatabilityOf([1, 1]));
        Assert.Throws<ArgumentException>(() => WeighingScale.RepeatabilityOf([1, 1, double.NaN]));
    }

    [Fact]
    public void PoorRepeatability_CountsInsteadOfTheDisplay()
    {
        Assert.Equal(2 * 0.03 / 0.05, new WeighingScale("any", 500, 0.01, 0.03).SmallestWeighableGrams(0.05), 1e-12);
        Assert.Equal(0.164, new WeighingScale("any", 500, 0.01, 0.001).SmallestWeighableGrams(0.05), 1e-12);
    }

    // 4.2 mL of honey stock of about 1.2 g/mL on a 0.01 g scale: under 1 % (common practice, no source); five fillings of a 1 mL syringe with
    // marks of 0.1 mL: 6 %.
    [Fact]
    public void WeighingTheSyringe_BeatsReadingIt()
    {
        Assert.InRange(BenchScenario.Fine.ErrorGrams / (4.2 * 1.2), 0, 0.01);
        Assert.Equal(0.25 / 4.2, new DosingSyringe(1, 0.1).ReadingError(4.2), 1e-12);
    }

    [Fact]
    public void AcidStockOnAFineScale_IsTenPercentInTheWine()
    {
        var trial = BenchScenario.Planned(BenchScenario.Ladder(TrialAdditive.Tartaric, 0.5, 1, 1.5, 2));
        var stock = Assert.Single(trial.Stocks);
        Assert.Equal(StockLiquid.Wine, stock.Liquid);
        Assert.Equal(0.1, stock.ActiveMassFraction, 0.005);
        Assert.True(stock.GramsFor(0.5, 100) >= 0.164);
    }

    // Whatever bench: a stock that is planned doses the finest step within the tolerance, fits into the glass, and is itself weighed within it;
    // a refusal names a glass with which it would work.
    [Fact]
    public void EveryPlannedStock_IsMeasurableAndEveryRefusalNamesAWay()
    {
        var random = new Random(41);
        var (planned, refused) = (0, 0);
        for (var i = 0; i < 400; i++)
        {
            var additive = TrialAdditive.All[random.Next(TrialAdditive.All.Length)];
            var doses = Enumerable.Range(1, 1 + random.Next(4)).Select(step => step * additive.CoarseStepGramsPerLiter).ToArray();
            var request = BenchScenario.Ladder(additive, doses) with
            {
                GlassMilliliters = 75 + random.Next(200),
                Equipment = new TrialEquipment(
                    [new WeighingScale("one", random.Next(2) == 0 ? 200 : 5000, Math.Pow(10, -random.Next(4)))],
                    new DosingSyringe(10, 0.2),
                    random.Next(4) == 0 ? DosingMethod.SyringeReading : DosingMethod.WeighedByDifference,
                    random.Next(2) == 0 ? 0.05 : 0.1),
            };
            Assert.Empty(TrialRequestCheck.Faults(request));
            var notices = new List<BenchNotice>();
            if (StockPlanning.Plan(request, request.Factors[0], notices) is { } stock)
            {
                planned++;
                var grams = stock.GramsFor(request.Factors[0].FinestStepGramsPerLiter, request.GlassMilliliters);
                Assert.True(grams >= 0.98 * StockPlanning.SmallestDose(request, stock.GramsPerMilliliter, stock.GramsFor(doses[^1], request.GlassMilliliters)), $"{i}: {stock}");
                Assert.True(stock.GramsFor(doses[^1], request.GlassMilliliters) / stock.GramsPerMilliliter <= 0.93 * request.GlassMilliliters, $"{i}: {stock}");
                Assert.True(stock.ProductGrams.Taken >= 0.98 * request.Equipment.Scales[0].SmallestWeighableGrams(request.Equipment.Tolerance), $"{i}: {stock}");
                Assert.True(stock.Milliliters >= doses.Sum(dose => stock.GramsFor(dose, request.GlassMilliliters)) / stock.GramsPerMilliliter, $"{i}: {stock}");
            }
            else
            {
                refused++;
                var refusal = Assert.Single(notices, notice => notice.Weight is NoticeWeight.Refusal);
                if (refusal.Code == BenchNoticeCodes.StockNotMeasurable)
                {
                    var finer = 0.99 * refusal.Values.Single(value => value.Name == "division").Number;
                    var better = request with { Equipment = request.Equipment with { Scales = request.Equipment.Scales.Add(new("finer", 200, finer)) } };
                    Assert.True(StockPlanning.Plan(better, better.Factors[0], []) is not null, $"{i}: refused again with a division of {finer} g");
                    continue;
                }

                Assert.Equal(BenchNoticeCodes.StepNotMeasurable, refusal.Code);
                var larger = request with { GlassMilliliters = 1.1 * refusal.Values.Single(value => value.Name == "glass-volume").Number };
                Assert.True(larger.GlassMilliliters > request.GlassMilliliters);
                var again = new List<BenchNotice>();
                Assert.True(
                    StockPlanning.Plan(larger, larger.Factors[0], again) is not null || again[^1].Code == BenchNoticeCodes.StockNotMeasurable || larger.Equipment.Scales[0].CapacityGrams < larger.GlassMilliliters,
                    $"{i}: refused again at {larger.GlassMilliliters} mL");
            }
        }

        Assert.True(planned > 100 && refused > 5, $"{planned} planned, {refused} refused");
    }

    [Fact]
    public void KitchenScaleAndSmallGlass_AreRefusedWithTheStepThatWouldDo()
    {
        var request = BenchScenario.Ladder(TrialAdditive.Tartaric, 1, 2, 3, 4) with { Equipment = BenchScenario.Bench with { Scales = [BenchScenario.Kitchen] } };
        var planned = TrialPlanning.Plan(request);
        Assert.Null(planned.Trial);
        Assert.Empty(planned.Faults);
        var refusal = Assert.Single(planned.Notices, notice => notice.Code == BenchNoticeCodes.StepNotMeasurable);
        Assert.True(refusal.Values.Single(value => value.Name == "smallest-step").Number > 0.5);
    }

    [Fact]
    public void StockInWater_MayThinTheGlassByATenthAndSaysSo()
    {
        var ladder = BenchScenario.Ladder(TrialAdditive.Tartaric, 0.5, 1, 1.5, 2);
        var request = ladder with { Factors = [ladder.Factors[0] with { Liquid = StockLiquid.Water }] };
        var planned = TrialPlanning.Plan(request);
        Assert.Contains(planned.Notices, notice => notice.Code == BenchNoticeCodes.WaterDilutes);
        var trial = planned.Trial!;
        var control = trial.Current.Glasses[0];
        Assert.Equal(StockLiquid.Water, control.Mix!.Pours[0].TopUpWith);
        var strongest = trial.Current.Glasses.MaxBy(glass => glass.DosesGramsPerLiter[0])!;

        // The control is thinned as much as the strongest glass.
        Assert.Equal(trial.Predict(control).WineShare, trial.Predict(strongest).WineShare, 0.003);
        Assert.InRange(trial.Predict(control).WineShare, 0.9, 0.999);
    }
}
