using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Batches;

/// <summary>Each reason is raised by a series made for it and stays silent on clean ones.</summary>
public sealed class GravityCleaningTests
{
    [Theory]
    [InlineData(0.25)]
    [InlineData(1)]
    [InlineData(2)]
    public void CleanFerment_LosesNothingAndHasNoEvents(double every)
    {
        var view = Course.Of(400, every, Course.Smooth).View(400);
        Assert.Empty(view.SetAside);
        Assert.Empty(view.Events);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    public void FastFerment_IsNotTakenForSpikes(double every)
    {
        // 30 points a day from the tenth hour on, to dryness in three days.
        var course = Course.Of(110, every, t => t < 10 ? 85 : Math.Max(-4, 85 - (1.25 * (t - 10))), noise: 0.5);
        for (var now = 2.0; now <= 110; now += 3.5)
        {
            var view = course.View(now);
            Assert.Empty(view.SetAside);
            Assert.Empty(view.Events);
        }
    }

    [Theory]
    [InlineData(0.1)]
    [InlineData(0.5)]
    public void FallWhileTheSensorWasSilent_IsNoStep(double every)
    {
        var course = new Course();
        foreach (var reading in Course.Of(300, every, t => Course.Smooth(1.6 * t)).Readings)
        {
            var hours = (reading.At - SimulatedBatch.Start).TotalHours;
            if (hours is < 52 or > 64)
            {
                course.Add(hours, (reading.Value - 1) * 1000);
            }
        }

        var view = course.View(300);
        Assert.Empty(view.Events);
        Assert.Empty(view.SetAside);
        Assert.Single(view.GravityGaps);
    }

    [Fact]
    public void HandReadingsWithDaysBetween_AreAllKept()
    {
        var course = new Course();
        foreach (var (day, points) in new[] { (0.1, 92.0), (3, 71), (6, 38), (11, 9), (16, -1), (24, -3) })
        {
            course.Tell(24 * day, JournalKind.MeasuredByHand, points);
        }

        var view = course.View(24 * 25);
        Assert.Empty(view.SetAside);
        Assert.Equal(6, view.Gravity.Count);
        Assert.Equal(0.997, view.LatestGravity!.Value.Value.Value, 6);
        Assert.Equal(new ReadingCounts(6, 0), view.GravityCounts);
        Assert.NotNull(view.Alcohol);
        Assert.NotNull(view.Forecast);
    }

    [Fact]
    public void WildReadings_AreSetAsideAsSpikes()
    {
        var course = Course.Of(300, 0.5, t => Course.Smooth(t) + (Math.Abs(t - 60.25) < 0.1 ? 25 : Math.Abs(t - 200.25) < 0.1 ? -14 : 0));
        var view = course.View(300);
        Assert.Equal([ReasonCodes.SetAsideSpike, ReasonCodes.SetAsideSpike], view.SetAside.Select(point => point.Because.Code));
        Assert.Equal([60.25, 200.25], view.SetAside.Select(point => (point.At - SimulatedBatch.Start).TotalHours));
        var size = Assert.IsType<ReasonValue.Gravity>(view.SetAside[0].Because.Values[0]);
        Assert.InRange(size.Ratio, 0.023, 0.027);
        Assert.True(size.IsDifference);
    }

    [Fact]
    public void NewestReadingWild_IsSetAside()
    {
        var course = Course.Of(48, 0.5, Course.Smooth);
        course.Add(48.25, Course.Smooth(48.25) + 20);
        var view = course.View(49);
        Assert.Equal(ReasonCodes.SetAsideSpike, Assert.Single(view.SetAside).Because.Code);
        Assert.True(view.LatestGravity!.Value.At < SimulatedBatch.At(48.25));
    }

    [Fact]
    public void NumbersNoLiquidHas_AreImpossible()
    {
        var course = Course.Of(100, 1, Course.Smooth);
        course.Add(50.5, 450);
        course.Add(70.5, -900);
        var view = course.View(100);
        Assert.All(view.SetAside, point => Assert.Equal(ReasonCodes.SetAsideImpossible, point.Because.Code));
        Assert.Equal(2, view.SetAside.Count);
        Assert.Empty(view.Events);
    }

    [Fact]
    public void FoamForHours_IsSetAsideAndTheCurveGoesOn()
    {
        var course = Course.Of(300, 0.25, t => Course.Smooth(t) + (t is > 60 and < 68 ? 5 : 0));
        var view = course.View(300);
        Assert.Equal(ReasonCodes.EventFoam, Assert.Single(view.Events).What.Code);
        Assert.All(view.SetAside, point => Assert.Equal(ReasonCodes.SetAsideFoam, point.Because.Code));
        Assert.InRange(view.SetAside.Count, 28, 36);
        FollowsTruth(view, 1);
    }

    [Theory]
    [InlineData(6)]
    [InlineData(-4)]
    public void Knock_IsMovedBackAndTold(double offset)
    {
        var view = Course.Of(300, 0.25, t => Course.Smooth(t) + (t > 170 ? offset : 0)).View(300);
        var told = Assert.Single(view.Events);
        Assert.Equal(ReasonCodes.EventStep, told.What.Code);
        Assert.InRange((told.At - SimulatedBatch.Start).TotalHours, 169.5, 170.5);
        Assert.Equal(offset, Assert.IsType<ReasonValue.Gravity>(told.What.Values[0]).Ratio * 1000, 0.6);
        Assert.Empty(view.SetAside);
        FollowsTruth(view, 1);
    }

    [Fact]
    public void Racking_SetsTheRubbishAsideAndMovesTheRestBack()
    {
        var random = new Random(3);
        var view = Course.Of(400, 0.25, t => t is > 240 and < 244 ? random.Next(-600, 600) : Course.Smooth(t) + (t >= 244 ? 5 : 0)).View(400);
        Assert.Contains(view.Events, found => found.What.Code == ReasonCodes.EventHandling);
        Assert.Contains(view.Events, found => found.What.Code == ReasonCodes.EventStep);
        Assert.Contains(view.SetAside, point => point.Because.Code == ReasonCodes.SetAsideHandling);
        Assert.InRange(view.SetAside.Count, 14, 18);
        FollowsTruth(view, 1.2);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void SugarAdded_StaysInTheCurve(bool isTold)
    {
        static double Fed(double t) => t < 130 ? Course.Smooth(t) : Course.Smooth(t) + (14 * Math.Exp(-(t - 130) / 40));
        var course = Course.Of(400, 0.25, Fed);
        if (isTold)
        {
            course.Tell(129, JournalKind.SugarAdded);
        }

        var view = course.View(400);
        var told = Assert.Single(view.Events);
        Assert.Equal(isTold ? JournalKind.SugarAdded : null, told.Kind);
        Assert.Equal(isTold ? "journal-sugar-added" : ReasonCodes.EventSugarFound, told.What.Code);
        Assert.Empty(view.SetAside);
        Assert.All(view.Gravity, point => Assert.Equal(Fed((point.At - SimulatedBatch.Start).TotalHours), point.Gravity.Points, 1.2));
    }

    [Fact]
    public void SmallAdditionThatTheJournalTells_IsNoKnock()
    {
        static double Fed(double t) => Course.Smooth(t) + (t > 200 ? 5 * Math.Exp(-(t - 200) / 60) : 0);
        var course = Course.Of(400, 0.25, Fed);
        course.Tell(199, JournalKind.SugarAdded);
        Assert.Equal([JournalKind.SugarAdded], course.View(400).Events.Select(told => told.Kind!.Value));
        Assert.Equal(Fed(300), course.View(400).Gravity.MinBy(point => Math.Abs((point.At - SimulatedBatch.At(300)).TotalHours)).Gravity.Points, 1.2);
    }

    [Fact]
    public void ReadingsBeforeTheYeast_AreSetAsideAndTellTheOriginalGravity()
    {
        var course = new Course();
        for (var t = -6.0; t < 80; t += 0.5)
        {
            course.Add(t, t < 0 ? 90.2 : Course.Smooth(t));
        }

        var view = course.View(80);
        Assert.Equal(12, view.SetAside.Count(point => point.Because.Code == ReasonCodes.SetAsideBeforeInoculation));
        Assert.Equal(12, view.SetAside.Count);
        Assert.Equal(1.0902, view.OriginalGravity!.Value.Value.Value, 5);
    }

    private static void FollowsTruth(BatchView view, double within) =>
        Assert.All(view.Gravity, point => Assert.Equal(Course.Smooth((point.At - SimulatedBatch.Start).TotalHours), point.Gravity.Points, within));
}
