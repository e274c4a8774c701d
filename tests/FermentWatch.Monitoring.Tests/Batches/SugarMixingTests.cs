using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Simulation;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Batches;

/// <summary>Sugar that came in lies in layers for hours: the sensor jumps, and none of these jumps is a knock.</summary>
public sealed class SugarMixingTests(ITestOutputHelper output)
{
    private const double FedAt = 150;

    [Theory]
    [InlineData(9, 6, false)]
    [InlineData(9, 6, true)]
    [InlineData(6, 14, false)]
    [InlineData(-7, 8, false)]
    [InlineData(-7, 8, true)]
    [InlineData(-9, 20, false)]
    public void LayersAfterSugar_AreSetAsideAndMoveNothing(double layer, double hours, bool isTold)
    {
        var course = Course.Of(400, 0.25, t => Fed(t) + (t >= FedAt && t < FedAt + hours ? layer : 0));
        if (isTold)
        {
            course.Tell(FedAt, JournalKind.SugarAdded);
        }

        var view = course.View(400);
        Assert.DoesNotContain(view.Events, one => one.What.Code == ReasonCodes.EventStep);
        Assert.Single(view.Events, one => one.What.Code == ReasonCodes.EventMixing);
        Assert.Single(view.Events, one => one.IsSugar);
        Assert.All(view.SetAside, point => Assert.Equal(ReasonCodes.SetAsideMixing, point.Because.Code));
        Assert.InRange(view.SetAside.Count, (hours * 4) - 5, (hours * 4) + 5);
        Follows(view);
    }

    [Fact]
    public void AKnockLongAfterSugar_IsStillAKnock()
    {
        var view = Course.Of(400, 0.25, t => Fed(t) + (t >= FedAt + 60 ? -6 : 0)).View(400);
        Assert.Single(view.Events, one => one.What.Code == ReasonCodes.EventStep);
        Assert.Empty(view.SetAside);
        Follows(view);
    }

    [Fact]
    public void AKnockAndAnotherWithoutSugar_AreBothMovedBack()
    {
        var view = Course.Of(400, 0.25, t => Course.Smooth(t) + (t >= 150 ? 4 : 0) + (t >= 160 ? -9 : 0)).View(400);
        Assert.Equal(2, view.Events.Count(one => one.What.Code == ReasonCodes.EventStep));
        Assert.All(view.Gravity, point => Assert.InRange(point.Gravity.Points - Course.Smooth((point.At - SimulatedBatch.Start).TotalHours), -1.2, 1.2));
    }

    [Fact]
    public void DrawnFermentsThatWereFed_AreReadAsWellAsTheSensorAllows()
    {
        const int FirstSeed = 61000;
        List<double> cleaned = [], read = [];
        foreach (var structure in Enum.GetValues<KineticStructure>())
        {
            for (var seed = FirstSeed; seed < FirstSeed + 12; seed++)
            {
                var ferment = FermentSimulator.Run(FamilyDraw.Of(FermentFamily.StepFeed, structure, seed), seed);
                var now = Math.Floor(ferment.Readings[^1].ArrivedHours);
                var view = BatchAnalysis.View(SimulatedBatch.Facts(ferment), ViewSettings.Default, PriorSnapshot.Shipped, SimulatedBatch.At(now));
                var truth = ferment.TruthAt(now).Gravity.Points;
                var last = view.Gravity.Where(point => point.At >= SimulatedBatch.At(now - 24)).Select(point => point.Gravity.Points).Order().ToList();
                var raw = ferment.Readings.Where(one => one.ArrivedHours >= now - 24).Select(one => (one.SpecificGravity - 1) * 1000).OfType<double>().Order().ToList();
                if (last.Count > 0 && raw.Count > 0)
                {
                    cleaned.Add(Math.Abs(last[last.Count / 2] - truth));
                    read.Add(Math.Abs(raw[raw.Count / 2] - truth));
                }
            }
        }

        output.WriteLine($"StepFeed, seeds {FirstSeed} on, {cleaned.Count} ferments: level off by {cleaned.Average():F2} points cleaned, {read.Average():F2} as read");
        Assert.InRange(cleaned.Count, 20, 24);
        Assert.True(cleaned.Average() < read.Average() + 0.5, $"{cleaned.Average():F2} cleaned, {read.Average():F2} as read");
    }

    private static double Fed(double hours) => hours < FedAt ? Course.Smooth(hours) : Course.Smooth(hours) + (14 * Math.Exp(-(hours - FedAt) / 60));

    private static void Follows(BatchView view) => Assert.All(
        view.Gravity, point => Assert.InRange(point.Gravity.Points - Fed((point.At - SimulatedBatch.Start).TotalHours), -1.4, 1.4));
}
