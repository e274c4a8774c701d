using System.Globalization;
using FermentWatch.Oenology.Alcohol;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Simulation;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Simulation;

public sealed class FermentSimulatorTests
{
    [Fact]
    public void MassOfLiquidGasAndLees_StaysWhatWentIn()
    {
        foreach (var ferment in Drawn(0, 40))
        {
            var start = ferment.MassesAt(0);
            Assert.Equal(ferment.Scenario.Must.OriginalGravity.Value, ferment.TruthAt(0).Gravity.Value, 9);
            foreach (var hours in (double[])[24, 100.3, 400, 1000, SimulatedFerment.TruthHours])
            {
                var added = ferment.Scenario.Interventions
                    .Where(act => act.Kind == InterventionKind.SugarAdded && act.HoursSinceInoculation <= hours - 0.25)
                    .Sum(act => act.Amount);
                var masses = ferment.MassesAt(hours);
                Assert.Equal(start.Liquid + added, masses.Liquid + masses.CarbonDioxide + masses.Lees, 6);
                Assert.True(masses.Lees >= 0, "yeast and lees can't be negative");
            }
        }
    }

    // Gay-Lussac: 0.5114 g ethanol and 0.4886 g carbon dioxide at most from a gram of hexose, by stoichiometry.
    [Fact]
    public void EthanolAndGas_AreBelowWhatStoichiometryAllows()
    {
        foreach (var ferment in Drawn(100, 20))
        {
            var end = ferment.MassesAt(SimulatedFerment.TruthHours);
            var consumed = ferment.MassesAt(0).Sugar + Added(ferment) - end.Sugar;
            Assert.InRange(end.Ethanol / consumed, 0.45, 0.5114);
            Assert.InRange(end.CarbonDioxide / consumed, 0.42, 0.4886);
            Assert.Equal(44.0095 / 46.0684, end.CarbonDioxide / end.Ethanol, 4);
        }
    }

    // The balance by Balling and Tabarié knows nothing of the simulator's yields and volumes: the two must agree as its stated error says.
    [Fact]
    public void AlcoholByMassBalance_AgreesWithTheTruthWithinItsStatedError()
    {
        var gaps = Drawn(0, 90)
            .Where(ferment => Added(ferment) == 0)
            .SelectMany(ferment => Gaps(ferment))
            .ToList();
        Assert.True(gaps.Count > 240, $"only {gaps.Count} moments");
        Assert.All(gaps, gap => Assert.InRange(gap.Alcohol, -0.8, 0.8));
        Assert.True(Share(gaps, gap => Math.Abs(gap.Alcohol) <= MassBalance.AlcoholTolerancePercent) >= 0.97, Shown(gaps));
        Assert.True(Share(gaps, gap => Math.Abs(gap.Sugar) <= MassBalance.SugarToleranceGramsPerLiter) >= 0.9, Shown(gaps));

        static IEnumerable<(double Alcohol, double Sugar)> Gaps(SimulatedFerment ferment)
        {
            foreach (var hours in (double[])[ferment.HoursAtHalf, ferment.HoursAtNinetyPercent, SimulatedFerment.TruthHours])
            {
                var truth = ferment.TruthAt(hours);
                var result = MassBalance.Of(ferment.Scenario.Must.OriginalGravity, truth.Gravity);
                yield return (
                    result.Alcohol.Value.Percent - truth.Alcohol.Percent,
                    result.SugarLeft.Value.GramsPerLiter - truth.Sugar.GramsPerLiter);
            }
        }

        static double Share(List<(double Alcohol, double Sugar)> gaps, Func<(double Alcohol, double Sugar), bool> holds) =>
            gaps.Count(holds) / (double)gaps.Count;

        static string Shown(List<(double Alcohol, double Sugar)> gaps) => string.Create(
            CultureInfo.InvariantCulture,
            $"alcohol {gaps.Min(gap => gap.Alcohol):F2} to {gaps.Max(gap => gap.Alcohol):F2}, sugar {gaps.Min(gap => gap.Sugar):F1} to {gaps.Max(gap => gap.Sugar):F1}");
    }

    // Days to dryness, typical, from memory: 12 °C 20 to 40, 15 °C 14 to 28, 20 °C 8 to 16, 25 °C 5 to 10, 30 °C 4 to 8.
    [Theory]
    [InlineData(12, 20, 40)]
    [InlineData(15, 14, 28)]
    [InlineData(20, 8, 16)]
    [InlineData(25, 5, 10)]
    [InlineData(30, 4, 8)]
    public void EverydayWine_IsDryAfterTheUsualDays(double celsius, double lowestDays, double highestDays) =>
        Assert.InRange(DaysToDryness(At(SimulatedKind.Wine, celsius)), lowestDays, highestDays);

    [Theory]
    [InlineData(SimulatedKind.Wine)]
    [InlineData(SimulatedKind.Mead)]
    [InlineData(SimulatedKind.Cider)]
    public void WarmerRoom_FermentsFaster(SimulatedKind kind)
    {
        double[] halves = [.. ((double[])[11, 14, 17, 20, 23, 26, 29]).Select(celsius => At(kind, celsius).HoursAtHalf)];
        Assert.Equal(halves.OrderDescending(), halves);
    }

    [Fact]
    public void LessNitrogen_FermentsSlower()
    {
        var plain = FermentScenarios.Plain(SimulatedKind.Wine);
        double[] hours =
        [
            .. ((double[])[320, 220, 140, 80, 50]).Select(nitrogen => FermentSimulator
                .Run(plain with { Must = plain.Must with { NitrogenMilligramsPerLiter = nitrogen } }, 1).HoursAtSeventyPercent),
        ];
        Assert.Equal(hours.Order(), hours);
        Assert.True(hours[^1] > 2 * hours[0], "a must of 50 mg/L should take more than twice as long as one of 320");
    }

    // Usual dry finishes, from memory: grape wine 0.992 to 0.997, cider 0.996 to 1.000, mead 0.985 to 0.990 (0.990 to 0.998 by others).
    [Theory]
    [InlineData(SimulatedKind.Wine, 0.992, 0.997)]
    [InlineData(SimulatedKind.Mead, 0.985, 0.998)]
    [InlineData(SimulatedKind.Cider, 0.996, 1.000)]
    public void EverydayFerment_EndsAtAUsualGravity(SimulatedKind kind, double lowest, double highest)
    {
        var ferment = FermentSimulator.Run(FermentScenarios.Plain(kind), 1);
        Assert.InRange(ferment.FinalGravity.Value, lowest, highest);
        Assert.Equal(FermentOutcome.Complete, ferment.Outcome);
    }

    [Fact]
    public void WeakYeast_StopsAtItsToleranceWithSugarLeft()
    {
        var plain = FermentScenarios.Plain(SimulatedKind.Mead);
        var ferment = FermentSimulator.Run(plain with { Yeast = plain.Yeast with { Tolerance = AlcoholByVolume.FromPercent(11.5) } }, 1);
        Assert.Equal(FermentOutcome.StoppedAtTolerance, ferment.Outcome);
        Assert.InRange(ferment.TruthAt(SimulatedFerment.TruthHours).Alcohol.Percent, 10.8, 11.6);
        Assert.True(ferment.FinalGravity.Value > 1.005);
    }

    [Fact]
    public void ColdRoomInTheSecondHalf_ArrestsAndLeftAloneItWouldNot()
    {
        var plain = FermentScenarios.Plain(SimulatedKind.Wine);
        var ferment = FermentSimulator.Run(plain with { Room = plain.Room with { Spells = [new(170, 1500, -15)] } }, 1);
        Assert.Equal(FermentOutcome.Arrested, ferment.Outcome);
        Assert.True(ferment.FinalGravity.Value > 1.005);
        Assert.InRange(ferment.FinalGravityIfLeftAloneAfter(160).Value, 0.992, 0.997);
        Assert.Equal(ferment.FinalGravity, ferment.FinalGravityIfLeftAloneAfter(170));
    }

    [Fact]
    public void HardlyAnyNitrogen_ArrestsWithSugarLeft()
    {
        var plain = FermentScenarios.Plain(SimulatedKind.Mead);
        var ferment = FermentSimulator.Run(
            plain with
            {
                Interventions = [],
                Must = plain.Must with { NitrogenMilligramsPerLiter = 30 },
                Yeast = plain.Yeast with { DeathFactor = 1.2 },
            },
            1);
        Assert.Equal(FermentOutcome.Arrested, ferment.Outcome);
    }

    [Fact]
    public void AddedSugar_LiftsTheGravityAtOnceAndIsThenConsumed()
    {
        var plain = FermentScenarios.Plain(SimulatedKind.Wine);
        var fed = FermentSimulator.Run(plain with { Interventions = [new(150, InterventionKind.SugarAdded, 30)] }, 1);
        var unfed = FermentSimulator.Run(plain, 1);
        Assert.Equal(unfed.TruthAt(149).Gravity.Value, fed.TruthAt(149).Gravity.Value, 9);
        Assert.InRange(fed.TruthAt(150.5).Gravity.Value - unfed.TruthAt(150.5).Gravity.Value, 0.009, 0.013);
        Assert.True(fed.TruthAt(SimulatedFerment.TruthHours).Alcohol > unfed.TruthAt(SimulatedFerment.TruthHours).Alcohol);
        Assert.Equal(unfed.FinalGravity, fed.FinalGravityIfLeftAloneAfter(149));
    }

    // In small vessels self-heating is 2 to 5 °C (computed from the heat of fermentation).
    [Fact]
    public void BusyFerment_WarmsItsVessel()
    {
        var plain = FermentScenarios.Plain(SimulatedKind.Wine);
        var ferment = FermentSimulator.Run(plain with { Room = plain.Room with { MeanCelsius = 23, VesselLiters = 25, Insulation = 1.4 } }, 1);
        Assert.InRange(ferment.Truth.Max(point => point.Temperature.Celsius) - 23, 1.5, 5);
    }

    [Fact]
    public void SharesOfConsumption_FollowOneAnotherAndTheFinishHolds()
    {
        foreach (var ferment in Drawn(200, 20))
        {
            Assert.True(ferment.HoursAtHalf < ferment.HoursAtSeventyPercent);
            Assert.True(ferment.HoursAtSeventyPercent < ferment.HoursAtNinetyPercent);
            var consumed = Consumed(ferment, SimulatedFerment.TruthHours);
            Assert.Equal(0.7 * consumed, Consumed(ferment, ferment.HoursAtSeventyPercent), 6);
            Assert.All(
                ferment.Truth.Where(point => point.HoursSinceInoculation >= ferment.FinishHours),
                point => Assert.InRange(Math.Abs(point.Gravity.Value - ferment.FinalGravity.Value), 0, 0.001));
        }
    }

    private static SimulatedFerment At(SimulatedKind kind, double celsius)
    {
        var plain = FermentScenarios.Plain(kind);
        return FermentSimulator.Run(plain with { Room = plain.Room with { MeanCelsius = celsius } }, 1);
    }

    private static double DaysToDryness(SimulatedFerment ferment) =>
        ferment.Truth.First(point => point.Sugar.GramsPerLiter < 4).HoursSinceInoculation / 24;

    private static double Added(SimulatedFerment ferment) => ferment.Scenario.Interventions
        .Where(act => act.Kind == InterventionKind.SugarAdded).Sum(act => act.Amount);

    private static double Consumed(SimulatedFerment ferment, double hours) =>
        ferment.MassesAt(hours).Ethanol / ferment.Scenario.Yeast.EthanolYield;

    private static IEnumerable<SimulatedFerment> Drawn(int firstSeed, int count) => Enumerable.Range(firstSeed, count)
        .Select(seed => FermentSimulator.Run(FermentScenarios.Draw(seed) with { SensorHours = 1 }, seed));
}
