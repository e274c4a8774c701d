using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Batches.Cleaning;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Simulation;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Batches;

public sealed class HandAnchorTests(ITestOutputHelper output)
{
    [Fact]
    public void AnOffset_IsTakenAwayByOneHandReading()
    {
        var course = Course.Of(200, 0.5, hours => Course.Smooth(hours) + 5);
        var before = course.View(200, original: 90).LatestGravity!.Value.Value.Points;
        course.Tell(196, JournalKind.MeasuredByHand, Course.Smooth(196));
        var view = course.View(200, original: 90);
        Assert.InRange(before - Course.Smooth(200), 4, 6);
        Assert.InRange(view.LatestGravity!.Value.Value.Points - Course.Smooth(200), -1, 1);
        var told = Assert.Single(view.Events, one => one.What.Code == ReasonCodes.EventAnchored);
        Assert.InRange(told.What.Values.OfType<ReasonValue.Gravity>().Single().Ratio * 1000, 4, 6);
    }

    [Fact]
    public void ADrift_IsFollowedFromOneHandReadingToTheNext()
    {
        // A fifth of a point a day, told at the start and on three days.
        static double Seen(double hours) => Course.Smooth(hours) + (hours / 120);
        var course = Course.Of(720, 1, Seen);
        foreach (var day in (int[])[10, 20, 29])
        {
            course.Tell(day * 24, JournalKind.MeasuredByHand, Course.Smooth(day * 24));
        }

        var gravity = course.View(720, original: 90).Gravity;
        var errors = gravity.Select(point => Math.Abs(point.Gravity.Points - Course.Smooth((point.At - SimulatedBatch.Start).TotalHours))).ToList();
        Assert.InRange(errors.Average(), 0, 0.6);
        Assert.InRange(errors.Max(), 0, 1.6);
    }

    [Fact]
    public void TheNextHandReading_IsComparedWithTheMovedSensor()
    {
        var course = Course.Of(320, 0.5, hours => Course.Smooth(hours) + 5);
        course.Tell(196, JournalKind.MeasuredByHand, Course.Smooth(196));
        course.Tell(316, JournalKind.MeasuredByHand, Course.Smooth(316));
        var pairs = course.View(320).HandPairs;
        Assert.InRange(pairs[0].SensorPoints - pairs[0].HandPoints, 4, 6);
        Assert.InRange(pairs[1].SensorPoints - pairs[1].HandPoints, -1, 1);
    }

    [Fact]
    public void TooFarApart_MovesNothingAndSaysSo()
    {
        var course = Course.Of(200, 0.5, Course.Smooth);
        course.Tell(196, JournalKind.MeasuredByHand, Course.Smooth(196) + 25);
        var view = course.View(200, original: 90);
        Assert.InRange(view.LatestGravity!.Value.Value.Points - Course.Smooth(200), -1, 1);
        Assert.Single(view.Events, one => one.What.Code == ReasonCodes.EventNotAnchored);
    }

    [Theory]
    [InlineData("no", 0)]
    [InlineData("yes", 6)]
    [InlineData(null, 6)]
    public void ASampleThatHoldsGas_MovesNothingAndSaysSo(string? degassed, double moves)
    {
        JournalValue[] told = degassed is null ? [] : [new JournalValue("degassed", null, degassed)];
        var course = Course.Of(200, 0.5, Course.Smooth);
        course.Tell(190, JournalKind.MeasuredByHand, Course.Smooth(190) + 6, told);
        var view = course.View(200, original: 90);

        Assert.InRange(view.LatestGravity!.Value.Value.Points - Course.Smooth(200), moves - 1.5, moves + 1.5);
        Assert.Single(view.Events, one => one.What.Code == (degassed == "no" ? ReasonCodes.EventNotAnchoredGas : ReasonCodes.EventAnchored));
    }

    /// <summary>The gas of one sample does not keep the next one from telling.</summary>
    [Fact]
    public void ADegassedSampleAfterOneWithGas_MovesTheSensor()
    {
        var course = Course.Of(320, 0.5, hours => Course.Smooth(hours) + 5);
        course.Tell(196, JournalKind.MeasuredByHand, Course.Smooth(196) + 4, new JournalValue("degassed", null, "no"));
        course.Tell(316, JournalKind.MeasuredByHand, Course.Smooth(316), new JournalValue("degassed", null, "yes"));
        var view = course.View(320);

        Assert.InRange(view.LatestGravity!.Value.Value.Points - Course.Smooth(320), -1, 1);
        Assert.InRange(view.HandPairs[1].SensorPoints - view.HandPairs[1].HandPoints, 4, 6);
    }

    [Fact]
    public void SugarInBetween_LeavesTheReadingsBeforeItWhereTheyWere()
    {
        // The sensor agrees with the hand before the sugar and hangs 6 points too high after its stirring.
        static double True(double hours) => Course.Smooth(hours) + (hours < 150 ? 0 : 20 * Math.Exp(-(hours - 150) / 40));
        var course = Course.Of(300, 0.5, hours => True(hours) + (hours < 150 ? 0 : 6));
        course.Tell(100, JournalKind.MeasuredByHand, True(100));
        course.Tell(150, JournalKind.SugarAdded);
        course.Tell(250, JournalKind.MeasuredByHand, True(250));
        foreach (var point in course.View(300, original: 90).Gravity)
        {
            var hours = (point.At - SimulatedBatch.Start).TotalHours;
            if (Math.Abs(hours - 150) > 12)
            {
                Assert.InRange(point.Gravity.Points - True(hours), -1.7, 1.7);
            }
        }
    }

    [Fact]
    public void Smoothing_IsTheMeanOfTheWalkGivenAllHandReadings()
    {
        // The same by its definition: the walk's covariance, conditioned on the readings with a dense solve.
        double[] days = [0, 4, 9, 15, 31], offsets = [1.2, -0.6, 2.9, 3.3, -2.0];
        var sensors = days.SelectMany(day => Enumerable.Range(-3, 7).Select(step => Sample((day * 24) + (step * 0.5), 40 + offsets[Array.IndexOf(days, day)]))).ToList();
        var hand = days.Select(day => Sample(day * 24, 40)).ToList();
        var (moved, _) = HandAnchor.Of(sensors, hand, SimulatedBatch.At(-500), null, []);
        var covariance = new double[days.Length, days.Length];
        for (var i = 0; i < days.Length; i++)
        {
            for (var j = 0; j < days.Length; j++)
            {
                covariance[i, j] = 36 + (0.15 * Math.Min(days[i], days[j]));
            }
        }

        var weights = Solved(covariance, 1.25, offsets);
        for (var i = 0; i < days.Length; i++)
        {
            var expected = Enumerable.Range(0, days.Length).Sum(j => covariance[i, j] * weights[j]);
            var middle = moved.Single(sample => sample.At == SimulatedBatch.At(days[i] * 24));
            Assert.Equal(40 + offsets[i] - expected, middle.Points, 9);
        }
    }

    [Fact]
    public void DrawnFerments_AreForeseenBetterWithThreeHandReadings()
    {
        const int FirstSeed = 9100;
        var (without, with, levelWithout, levelWith) = (new List<double>(), new List<double>(), new List<double>(), new List<double>());
        for (var seed = FirstSeed; seed < FirstSeed + 24; seed++)
        {
            var drawn = FermentScenarios.Draw(seed);
            var random = new Random(seed);
            var ferment = FermentSimulator.Run(
                drawn with { Sensor = drawn.Sensor with { DriftPerDay = (random.NextDouble() - 0.5) * 0.0006, Offsets = [new GravityOffset(-100, double.PositiveInfinity, (random.NextDouble() - 0.5) * 0.012)] } }, seed);
            var now = 24.0 * 14;
            var facts = SimulatedBatch.Facts(ferment);
            var hand = new List<JournalEntry>();
            foreach (var day in (int[])[4, 9, 13])
            {
                // A home hydrometer is read to about a point.
                var read = ferment.Truth[day * 24].Gravity.Points + ((random.NextDouble() + random.NextDouble() + random.NextDouble() - 1.5) * 2);
                hand.Add(new JournalEntry(day, JournalKind.MeasuredByHand, SimulatedBatch.At(day * 24), "", SpecificGravity.FromPoints(read), null, false));
            }

            var truth = ferment.Truth[(int)now].Gravity.Points;
            foreach (var (journal, ends, levels) in new[] { (new List<JournalEntry>(), without, levelWithout), (hand, with, levelWith) })
            {
                var view = BatchAnalysis.View(facts with { Journal = journal }, ViewSettings.Default, PriorSnapshot.Shipped, SimulatedBatch.At(now));
                if (view.Forecast is { } forecast && view.LatestGravity is { } latest)
                {
                    ends.Add(Math.Abs(forecast.FinalGravity.P50.Points - ferment.FinalGravity.Points));
                    levels.Add(Math.Abs(view.Gravity[^1].Gravity.Points - truth));
                }
            }
        }

        output.WriteLine($"seeds {FirstSeed} on, {without.Count} ferments: level off by {levelWithout.Average():F2} and {levelWith.Average():F2} points, end by {without.Average():F2} and {with.Average():F2}");
        Assert.True(levelWith.Average() < 0.6 * levelWithout.Average());
        Assert.True(with.Average() < without.Average());
    }

    private static GravitySample Sample(double hours, double points) => new(SimulatedBatch.At(hours), points, new ReceivedAt(SimulatedBatch.At(hours).UnixMicroseconds));

    private static double[] Solved(double[,] matrix, double diagonal, double[] right)
    {
        var n = right.Length;
        var a = (double[,])matrix.Clone();
        var b = (double[])right.Clone();
        for (var i = 0; i < n; i++)
        {
            a[i, i] += diagonal;
        }

        for (var i = 0; i < n; i++)
        {
            for (var row = i + 1; row < n; row++)
            {
                var part = a[row, i] / a[i, i];
                for (var column = i; column < n; column++)
                {
                    a[row, column] -= part * a[i, column];
                }

                b[row] -= part * b[i];
            }
        }

        for (var i = n - 1; i >= 0; i--)
        {
            for (var column = i + 1; column < n; column++)
            {
                b[i] -= a[i, column] * b[column];
            }

            b[i] /= a[i, i];
        }

        return b;
    }
}
