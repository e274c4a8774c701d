using FermentWatch.Simulation;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Simulation;

public class FamilyDrawTests
{
    private static readonly FermentFamily[] Families = Enum.GetValues<FermentFamily>();

    [Theory]
    [InlineData(KineticStructure.Cells)]
    [InlineData(KineticStructure.Transporters)]
    public void SameArguments_GiveTheSameFerment(KineticStructure structure)
    {
        foreach (var family in Families)
        {
            var (first, second) = (FamilyDraw.Of(family, structure, 77), FamilyDraw.Of(family, structure, 77));
            Assert.Equal(first.Must, second.Must);
            Assert.Equal(first.Yeast, second.Yeast);
            Assert.Equal(first.Interventions, second.Interventions);
            Assert.NotEqual(first.Yeast, FamilyDraw.Of(family, structure, 78).Yeast);
        }
    }

    [Fact]
    public void Draws_StayWithinTheRangesThatAreWrittenDown()
    {
        for (var seed = 1; seed <= 200; seed++)
        {
            foreach (var family in Families)
            {
                var drawn = FamilyDraw.Of(family, KineticStructure.Cells, seed);
                var place = $"{family}, seed {seed}";
                var points = drawn.Must.OriginalGravity.Points;
                Assert.True(points is > 41.99 and < 150.01, $"{place}: {points} points");
                Assert.True(drawn.Kind != SimulatedKind.Cider || points < 66.01, $"{place}: {points} points");
                Assert.True(drawn.Yeast.Tolerance.Percent is >= 10 and <= 18.5, $"{place}: {drawn.Yeast.Tolerance.Percent} % vol");
                Assert.True(drawn.Yeast.ColdLimitCelsius is >= 4 and <= 14, place);
                Assert.True(family != FermentFamily.StuckNutrient || drawn.Must.NitrogenMilligramsPerLiter is >= 25 and <= 90, place);
                Assert.True(Math.Abs(drawn.Sensor.CelsiusOffset) <= 1, place);
            }
        }
    }

    [Fact]
    public void Acts_AreThoseOfTheFamily()
    {
        for (var seed = 1; seed <= 50; seed++)
        {
            IReadOnlyList<Intervention> Acts(FermentFamily family) => FamilyDraw.Of(family, KineticStructure.Transporters, seed).Interventions;
            Assert.InRange(Acts(FermentFamily.StepFeed).Count(act => act.Kind == InterventionKind.SugarAdded), 1, 3);
            Assert.InRange(Acts(FermentFamily.MeadStaggered).Count(act => act.Kind == InterventionKind.NutrientAdded), 2, 4);
            Assert.Single(Acts(FermentFamily.StuckCold), act => act is { Kind: InterventionKind.RoomChanged, Amount: < 0 });
            var restart = Acts(FermentFamily.RestartWarm);
            Assert.Equal(2, restart.Count);
            Assert.True(restart[0].Amount < 0 && restart[1].Amount > 0 && restart[1].HoursSinceInoculation > restart[0].HoursSinceInoculation + 59, $"seed {seed}");
            Assert.Empty(Acts(FermentFamily.WineDry));
        }
    }

    [Fact]
    public void ToleranceFamily_EndsAtItsToleranceWithSugarLeft()
    {
        // A legitimate end, in both structures: at 94 % of the tolerance or more.
        foreach (var structure in Enum.GetValues<KineticStructure>())
        {
            var ends = Enumerable.Range(1, 6).Select(seed => FermentSimulator.Run(FamilyDraw.Of(FermentFamily.MeadTolerance, structure, seed) with { SensorHours = 0 }, seed).Outcome).ToList();
            Assert.True(ends.Count(end => end == FermentOutcome.StoppedAtTolerance) >= 5, $"{structure}: {string.Join(", ", ends)}, seeds 1 to 6");
        }
    }

    [Fact]
    public void StarvedFamily_Arrests()
    {
        foreach (var structure in Enum.GetValues<KineticStructure>())
        {
            var ends = Enumerable.Range(1, 6).Select(seed => FermentSimulator.Run(FamilyDraw.Of(FermentFamily.StuckNutrient, structure, seed) with { SensorHours = 0 }, seed).Outcome).ToList();
            Assert.True(ends.Count(end => end == FermentOutcome.Arrested) >= 4, $"{structure}: {string.Join(", ", ends)}, seeds 1 to 6");
        }
    }
}
