using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Simulation;
using FsCheck.Xunit;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Batches;

public sealed class BatchAnalysisTests
{
    /// <summary>The runner prints the seed of a failing case.</summary>
    [Property(MaxTest = 12)]
    public void ShuffledAndRepeatedFacts_GiveTheIdenticalView(int seed)
    {
        var random = new Random(seed);
        var drawn = FermentScenarios.Draw(seed & 0xffff);
        var ferment = FermentSimulator.Run(drawn with { SensorHours = 40 + (random.NextDouble() * 300), Sensor = drawn.Sensor with { IntervalMinutes = 20 } }, seed & 0xffff);
        var facts = SimulatedBatch.Facts(ferment);
        var journal = new List<JournalEntry>
        {
            new(1, JournalKind.NutrientAdded, SimulatedBatch.At(24), "half", null, null, false),
            new(2, JournalKind.NutrientAdded, SimulatedBatch.At(26), "half, later", null, 1, false),
            new(3, JournalKind.MeasuredByHand, SimulatedBatch.At(30), string.Empty, SpecificGravity.FromRatio(1.08), null, false),
            new(4, JournalKind.Note, SimulatedBatch.At(31), "smells of pears", null, null, true),
        };
        facts = facts with { Journal = journal };
        var now = SimulatedBatch.At(random.NextDouble() * 400);
        var expected = BatchAnalysis.View(facts, ViewSettings.Default, PriorSnapshot.Shipped, now);
        var shuffled = new BatchFacts(
            facts.Batch,
            Mixed(journal, random),
            [.. Mixed(facts.Series, random).Select(series => series with { Readings = Mixed(series.Readings, random) })]);
        var again = BatchAnalysis.View(shuffled, ViewSettings.Default, PriorSnapshot.Shipped, now);
        Assert.Equal(expected.Gravity, again.Gravity);
        Assert.Equal(expected.Forecast, again.Forecast);
        Assert.True(expected == again, $"seed {seed}: the views differ");
    }

    [Fact]
    public void FactsAfterNow_DoNotCount()
    {
        var course = Course.Of(300, 0.5, Course.Smooth);
        var whole = course.View(100);
        var early = Course.Of(100, 0.5, Course.Smooth).View(100);
        Assert.Equal(early, whole);
    }

    [Fact]
    public void ForecastBetweenTwoLines_IsThatOfTheLine()
    {
        var course = Course.Of(120, 0.1, Course.Smooth);
        var line = course.View(119.75);
        var later = course.View(119.95);
        Assert.Equal(SimulatedBatch.At(119.75), line.Forecast!.AsOf);
        Assert.Equal(line.Forecast, later.Forecast);
        Assert.Equal(line.Phase, later.Phase);
        Assert.True(later.LatestGravity!.Value.At > line.LatestGravity!.Value.At);
    }

    [Fact]
    public void NoReadings_SayUnknownWithReason()
    {
        var view = new Course().View(10);
        Assert.Equal(Phase.Unknown, view.Phase.Phase);
        Assert.Equal(ReasonCodes.PhaseUnknownNoReadings, view.Phase.Because.Code);
        Assert.Null(view.Forecast);
        Assert.Null(view.LatestGravity);
        Assert.Null(view.OriginalGravity);
        Assert.Null(view.SugarLeft);
        Assert.Null(Assert.Single(view.Sensors).LastAt);
        Assert.NotNull(new Course().View(10, original: 90).Forecast);
    }

    [Property(MaxTest = 60)]
    public void AnyReadings_NeverThrow(int seed)
    {
        var random = new Random(seed);
        var course = new Course();
        var count = random.Next(0, 40);
        for (var i = 0; i < count; i++)
        {
            // Equal times, huge and negative numbers, times before the yeast and far away.
            var hours = random.Next(4) switch { 0 => 5, 1 => random.Next(-50, 100), 2 => random.NextDouble() * 2000, _ => i };
            var points = random.Next(5) switch { 0 => 1e12, 1 => -1e300, 2 => random.Next(-2000, 2000), _ => random.NextDouble() * 100 };
            course.Add(hours, points, random.Next(10), random.Next(2) == 0);
            if (random.Next(6) == 0)
            {
                course.Tell(hours, (JournalKind)random.Next(1, 9), random.Next(-200, 500));
            }
        }

        var view = course.View(random.Next(-10, 500), random.Next(2) == 0 ? null : random.Next(0, 150));
        Assert.True(view.Gravity.Count <= 1000, $"seed {seed}");
    }

    [Fact]
    public void SilentSensor_MakesThePhaseUnknownAndAGap()
    {
        var course = Course.Of(100, 0.5, Course.Smooth);
        Assert.Equal(Phase.Active, course.View(102).Phase.Phase);
        var late = course.View(104);
        Assert.Equal(ReasonCodes.PhaseUnknownSilent, late.Phase.Because.Code);
        Assert.Equal(SimulatedBatch.At(104), Assert.Single(late.GravityGaps).Until);
        Assert.Equal(TimeSpan.FromMinutes(30), Assert.Single(late.Sensors).MedianInterval);
    }

    [Fact]
    public void SixtyDaysEveryMinute_StayWithinAThousandBins()
    {
        var course = Course.Of(1440, 1 / 60.0, Course.Smooth);
        var readings = course.Readings;
        var temperature = readings.Select(reading => reading with { Value = 21, Raw = 21 }).ToList();
        var facts = course.Facts(90);
        facts = facts with
        {
            Series = [.. facts.Series, new SeriesReadings(new SeriesKey(SimulatedBatch.Sensor, QuantityKind.Temperature), temperature)],
        };
        var view = BatchAnalysis.View(facts, ViewSettings.Default, PriorSnapshot.Shipped, SimulatedBatch.At(1440));

        Assert.InRange(view.Gravity.Count, 400, 1000);
        Assert.InRange(view.Temperature.Count, 400, 1000);
    }

    [Fact]
    public void EarlierView_SavesTheForecastAndChangesNothing()
    {
        var course = Course.Of(140, 0.5, Course.Smooth);
        BatchView Look(double hour, BatchView? before) =>
            BatchAnalysis.View(course.Facts(90), ViewSettings.Default, PriorSnapshot.Shipped, SimulatedBatch.At(hour), before);

        // A new line of the grid: nothing that stood on the one before may be kept.
        var first = Look(100.1, null);
        var next = Look(110.1, first);
        Assert.Equal(Look(110.1, null), next);
        Assert.NotSame(first.Forecast, next.Forecast);

        // The same line, with more readings behind it.
        var same = Look(110.2, next);
        Assert.Equal(Look(110.2, null), same);
        Assert.Same(next.Forecast, same.Forecast);
    }

    private static List<T> Mixed<T>(IReadOnlyList<T> facts, Random random)
    {
        var mixed = facts.Concat(facts.Where(_ => random.Next(5) == 0)).ToArray();
        random.Shuffle(mixed);
        return [.. mixed];
    }
}
