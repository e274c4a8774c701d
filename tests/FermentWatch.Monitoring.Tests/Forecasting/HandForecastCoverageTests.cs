using System.Collections.Concurrent;
using System.Globalization;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Simulation;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Forecasting;

/// <summary>Whether the odds can be believed when all there is are three to six readings of a hydrometer, and nothing of the temperature.</summary>
public class HandForecastCoverageTests(ITestOutputHelper output)
{
    private const int Ferments = 48;

    [Fact]
    public void ThreeToSixReadings_RangeHoldsTheEndAsOftenAsItSays()
    {
        var results = new ConcurrentBag<(int Seed, bool Inside, double Width, bool NotYet)>();
        Parallel.For(1, Ferments + 1, new ParallelOptions { CancellationToken = TestContext.Current.CancellationToken }, seed =>
        {
            var ferment = FermentSimulator.Run(FermentScenarios.Draw(seed), seed);
            var random = new Random(seed);
            var count = 3 + (seed % 4);
            var hours = ferment.HoursAtShare(0.8);
            var journal = new List<JournalEntry>();
            for (var i = 1; i <= count; i++)
            {
                var at = hours * i / count;
                var read = ferment.TruthAt(at).Gravity.Value + (0.002 * (random.NextDouble() - 0.5));
                journal.Add(Entry(journal.Count, JournalKind.MeasuredByHand, at, SpecificGravity.FromRatio(Math.Round(read, 3))));
            }

            foreach (var act in ferment.Scenario.Interventions.Where(act => act.Kind is InterventionKind.SugarAdded && act.HoursSinceInoculation < hours))
            {
                journal.Add(Entry(journal.Count, JournalKind.SugarAdded, act.HoursSinceInoculation, null));
            }

            var batch = new Batch(
                new BatchId("simulated"), "Simulated", (FermentKind)(int)ferment.Scenario.Kind, null, null, DrawnFerment.Inoculated,
                SpecificGravity.FromRatio(Math.Round(ferment.Scenario.Must.OriginalGravity.Value, 3)), null,
                AlcoholByVolume.FromPercent(Math.Round(ferment.Scenario.Yeast.Tolerance.Percent)), ValueList.Of<SensorAttachment>());
            var view = BatchAnalysis.View(new BatchFacts(batch, journal, []), ViewSettings.Default, PriorSnapshot.Shipped, SimulatedHistory.After(hours + 0.01));
            var ends = view.Forecast!.FinalGravity;
            var end = ferment.FinalGravityIfLeftAloneAfter(hours);
            results.Add((seed, ends.P05 <= end && end <= ends.P95, ends.P95.Points - ends.P05.Points, view.Forecast.NotYet is not null));
        });

        string Report(string of, IReadOnlyList<(int Seed, bool Inside, double Width, bool NotYet)> these) => string.Create(
            CultureInfo.InvariantCulture,
            $"{of}: {these.Count} ferments, 9-in-10 range covers {these.Average(r => r.Inside ? 1.0 : 0):P0}, mean width {these.Average(r => r.Width):F1} points, missed seeds {string.Join(' ', these.Where(r => !r.Inside).Select(r => r.Seed).Order())}");
        var all = Report("all", [.. results]);
        var spoken = results.Where(r => !r.NotYet).ToList();
        output.WriteLine(all);
        output.WriteLine(Report("spoken", spoken));
        Assert.True(results.Average(r => r.Inside ? 1.0 : 0) is >= 0.75, all);
        Assert.True(spoken.Average(r => r.Inside ? 1.0 : 0) is >= 0.75, Report("spoken", spoken));
        Assert.True(spoken.Count >= Ferments / 4, Report("spoken", spoken));
    }

    private static JournalEntry Entry(int before, JournalKind kind, double hours, SpecificGravity? gravity) =>
        new(before + 1, kind, SimulatedHistory.After(hours), "", gravity, null, false);
}
