using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Oenology.Quantities;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Forecasting;

/// <summary>What a maker's finished batches do to the next forecast.</summary>
public class LearnedEndTests(ITestOutputHelper output)
{
    private const int Makers = 40;
    private const double LookHours = 92;

    private static readonly KindPrior Wine = PriorSnapshot.Shipped.Wine;

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    /// <summary>Worked by hand: s² = 4.84, τ² = 2.904, σ² = 1.936, w = 1/4.186; four ends 4 above the usual one give 4·(4/4.186)/(4/4.186 + 1/2.904).</summary>
    [Fact]
    public void FourEqualEnds_MoveTheUsualOneByTheirWeight()
    {
        var learned = LearnedEnd.Of(FermentKind.Wine, Enumerable.Range(0, 4).Select(i => Batch(85 + (5 * i), 4)), Wine)!;
        Assert.Equal(4, learned.Count);
        Assert.Equal(4 * 0.955566 / (0.955566 + 0.344353), learned.ShiftPoints, 1e-4);
        Assert.Equal(Math.Sqrt(1.936 + (1 / (0.955566 + 0.344353))), learned.SpreadPoints, 1e-4);
    }

    [Fact]
    public void ManyBatches_NeverClaimMoreThanTheirFloor()
    {
        var learned = LearnedEnd.Of(FermentKind.Wine, Enumerable.Range(0, 500).Select(_ => Batch(90, 2)), Wine)!;
        Assert.InRange(learned.ShiftPoints, 1.9, 2);
        Assert.Equal(LearnedEnd.LeastSpreadPart * Wine.DrySpread, learned.SpreadPoints, 1e-9);
    }

    [Fact]
    public void EndsThatScatter_WidenWhatIsLearned()
    {
        var agree = LearnedEnd.Of(FermentKind.Wine, [Batch(90, 1), Batch(90, 1), Batch(90, 1), Batch(90, 1)], Wine)!;
        var scatter = LearnedEnd.Of(FermentKind.Wine, [Batch(90, -6), Batch(90, 7), Batch(90, -4), Batch(90, 7)], Wine)!;
        Assert.Equal(4, scatter.Count);
        Assert.True(scatter.SpreadPoints > 1.2 * agree.SpreadPoints, $"{scatter.SpreadPoints} is hardly more than {agree.SpreadPoints}");
    }

    [Fact]
    public void BatchesThatSayNothingAboutDryness_AreLeftOut()
    {
        FinishedBatch[] good = [Batch(90, 1), Batch(95, 2)];
        var plain = LearnedEnd.Of(FermentKind.Wine, good, Wine);
        Assert.NotNull(plain);
        FinishedBatch[] bad =
        [
            Batch(90, 30),
            Batch(90, 1) with { Kind = FermentKind.Mead },
            Batch(90, 1) with { Finished = 0.4 },
            Batch(100, 3) with { Tolerance = AlcoholByVolume.FromPercent(12.5) },
        ];
        Assert.Equal(plain, LearnedEnd.Of(FermentKind.Wine, [.. bad, .. good.Reverse()], Wine));
        Assert.Null(LearnedEnd.Of(FermentKind.Wine, [.. bad, good[0]], Wine));
    }

    [Fact]
    public void Snapshot_MovesItsKindAlone()
    {
        Assert.Equal(PriorSnapshot.Shipped, PriorSnapshot.Learn([]));
        var prior = PriorSnapshot.Learn([Batch(90, 3), Batch(92, 3)]);
        Assert.Equal(PriorSnapshot.Shipped.Mead, prior.Mead);
        Assert.Equal(PriorSnapshot.Shipped.Cider, prior.Cider);
        Assert.True(prior.Wine.DryEnd(90) > PriorSnapshot.Shipped.Wine.DryEnd(90) + 1);
        Assert.NotEqual(PriorSnapshot.Shipped.Version, prior.Version);
        Assert.Equal(prior, PriorSnapshot.With(prior.Learned));
        var forecast = Forecaster.At(new DrawnFerment().Input(LookHours) with { Prior = prior }, Cancel);
        Assert.Equal("basis-own-batches", Assert.Single(forecast.Basis).Code);
        Assert.Equal(prior.Version, forecast.Prior);
    }

    /// <summary>Makers whose ends all lie 4 points off the usual one, above or below, with 1 point between batches.</summary>
    [Fact]
    public void MakersWithAHabit_AreForecastBetterThanWithoutIt()
    {
        var (shipped, learned, held) = Errors(random => random.Next(2) == 0 ? 4 : -4, 1);
        Assert.True(learned < 0.85 * shipped, $"mean error {learned:F2} points with their batches, {shipped:F2} without");
        Assert.True(held >= 0.85 * Makers, $"the 9-in-10 range held {held} of {Makers}");
    }

    /// <summary>Makers whose batches end as those of all makers together: nothing to learn.</summary>
    [Fact]
    public void MakersWithoutAHabit_AreForecastNoWorse()
    {
        var (shipped, learned, held) = Errors(_ => 0, Wine.DrySpread);
        Assert.True(learned < 1.1 * shipped, $"mean error {learned:F2} points with their batches, {shipped:F2} without");
        Assert.True(held >= 0.8 * Makers, $"the 9-in-10 range held {held} of {Makers}");
    }

    private (double Shipped, double Learned, int Held) Errors(Func<Random, double> habit, double scatter)
    {
        double shipped = 0, learned = 0;
        var held = 0;
        for (var seed = 0; seed < Makers; seed++)
        {
            var random = new Random(9000 + seed);
            var own = habit(random);
            double Away() => own + (scatter * Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble()));
            var prior = PriorSnapshot.Learn([.. Enumerable.Range(0, 4).Select(_ => Batch(80 + (30 * random.NextDouble()), Away() + random.NextDouble() - 0.5))]);
            var start = 80 + (30 * random.NextDouble());
            var ferment = new DrawnFerment { Seed = seed, Start = start, Told = start, End = Wine.DryEnd(start) + Away() };
            var input = ferment.Input(LookHours);
            var without = Forecaster.At(input, Cancel).FinalGravity;
            var with = Forecaster.At(input with { Prior = prior }, Cancel).FinalGravity;
            shipped += Math.Abs(without.P50.Points - ferment.End) / Makers;
            learned += Math.Abs(with.P50.Points - ferment.End) / Makers;
            held += ferment.End >= with.P05.Points && ferment.End <= with.P95.Points ? 1 : 0;
        }

        output.WriteLine($"{Makers} makers, seeds 9000 on: mean error {shipped:F2} points with the shipped prior, {learned:F2} with four own batches, 9-in-10 range held {held}");
        return (shipped, learned, held);
    }

    private static FinishedBatch Batch(double original, double away) =>
        new(FermentKind.Wine, SpecificGravity.FromPoints(original), SpecificGravity.FromPoints(Wine.DryEnd(original) + away), null, 1);
}
