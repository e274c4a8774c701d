using FermentWatch.Monitoring.Telemetry.Calibration;
using FermentWatch.Oenology.Alcohol;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Simulation;
using Xunit;
using static FermentWatch.Monitoring.Tests.Telemetry.Calibration.CalibrationSamples;

namespace FermentWatch.Monitoring.Tests.Telemetry.Calibration;

/// <summary>A vessel on a scale, against simulated ferments, whose masses follow another road than Balling's.</summary>
public sealed class VesselMassGravityTests(ITestOutputHelper output)
{
    [Fact]
    public void GasThatSimulatedFermentsLost_TellsTheirGravityWithinTheStatedError()
    {
        var (inside, all, worst) = (0, 0, 0.0);
        for (var seed = 1; seed <= 60; seed++)
        {
            var ferment = FermentSimulator.Run(FermentScenarios.Draw(seed), seed);
            if (ferment.Truth.Zip(ferment.Truth.Skip(1), (one, next) => next.Gravity.Value - one.Gravity.Value).Any(rise => rise > 0.0005))
            {
                continue; // Sugar was added: the balance does not hold for that.
            }

            var original = ferment.Truth[0].Gravity;
            foreach (var hours in (double[])[72, 240, 1000])
            {
                var masses = ferment.MassesAt(hours);
                var lost = masses.CarbonDioxide - ferment.MassesAt(0).CarbonDioxide;
                var told = GravityFromMassLoss.Of(original, Volume.FromLiters(20), lost / 1000 * 20);
                var gap = Math.Abs(told.Value.Value - ferment.TruthAt(hours).Gravity.Value);
                all++;
                inside += gap <= told.Tolerance ? 1 : 0;
                worst = Math.Max(worst, gap / told.Tolerance);
            }
        }

        output.WriteLine($"{inside} of {all} inside the stated error, worst {worst:F2} of it");
        Assert.True(all >= 60, $"only {all} moments");
        Assert.True(inside >= 0.95 * all, $"{inside} of {all}, worst {worst:F2}");
    }

    [Fact]
    public void SampleAndRacking_AreLeftOutOfTheLoss()
    {
        // 0.005 kg an hour; at hour 60 a sample of 0.25 kg, at hour 100 5 kg stay behind, at hour 140 a wet cloth of 0.3 kg is left on the vessel.
        var readings = Enumerable.Range(0, 200).Select(hour => Reading(hour, 30 - (0.005 * hour) - (hour >= 60 ? 0.25 : 0) - (hour >= 100 ? 5 : 0) + (hour >= 140 ? 0.3 : 0))).ToList();
        var mass = VesselMassGravity.Of(readings, Batch(), [Hand(1, 59.5, 1.06)]);
        Assert.Equal([At(60), At(100), At(140)], mass.Handlings);
        // After the racking a loss counts for the must that is left: 0.5 kg before it of 21.76 kg, 0.5 kg after it of about 16.
        Assert.InRange(mass.KilogramsLost, 1.08, 1.20);
        Assert.InRange(mass.Gravity[0].Value, 1.0895, 1.0905);
        Assert.True(mass.Gravity[^1].Value < mass.Gravity[100].Value);
    }

    [Fact]
    public void WithoutHandling_LossIsTheDifferenceOfTheMasses()
    {
        var readings = Enumerable.Range(0, 200).Select(hour => Reading(hour, 30 - (0.005 * hour))).ToList();
        var mass = VesselMassGravity.Of(readings, Batch(), []);
        Assert.Empty(mass.Handlings);
        Assert.Equal(0.995, mass.KilogramsLost, 0.011);
    }

    [Fact]
    public void MissingOriginalVolumeOrStart_SaysWhich()
    {
        Assert.Equal("mass-no-original", VesselMassGravity.Of([Reading(1, 30)], Batch(original: null), []).Missing!.Code);
        Assert.Equal("mass-no-volume", VesselMassGravity.Of([Reading(1, 30)], Batch(liters: null), []).Missing!.Code);
        Assert.Equal("mass-no-start", VesselMassGravity.Of([Reading(30, 30)], Batch(), []).Missing!.Code);
    }
}
