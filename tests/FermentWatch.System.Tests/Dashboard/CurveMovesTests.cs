using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Dashboard.Pictures;
using Xunit;

namespace FermentWatch.System.Tests.Dashboard;

public sealed class CurveMovesTests
{
    private static readonly EventTime Start = EventTime.From(new DateTimeOffset(2026, 10, 1, 0, 0, 0, TimeSpan.Zero));
    private static readonly Stretch Whole = new(Start, Start + TimeSpan.FromDays(32));

    [Fact]
    public void Closer_HalvesAroundTheMiddleAndStopsAtSixHours()
    {
        var shown = Whole;
        var widths = new List<double>();
        while (CurveMoves.Closer(shown, Whole) is { } next)
        {
            Assert.True(next.From >= shown.From && next.Until <= shown.Until);
            widths.Add(next.Length.TotalHours);
            shown = next;
        }

        Assert.Equal([384, 192, 96, 48, 24, 12, 6], widths);
        Assert.Equal(Start + TimeSpan.FromDays(16), shown.From + (shown.Length / 2));
    }

    [Fact]
    public void Wider_UndoesCloserAndEndsAtTheWhole()
    {
        var near = CurveMoves.Closer(CurveMoves.Closer(Whole, Whole)!.Value, Whole)!.Value;
        Assert.Equal(Whole, CurveMoves.Wider(CurveMoves.Wider(near, Whole)!.Value, Whole));
        Assert.Null(CurveMoves.Wider(Whole, Whole));
    }

    [Fact]
    public void EarlierAndLater_MoveByHalfAndStopAtTheEnds()
    {
        var last = new Stretch(Whole.Until - TimeSpan.FromDays(4), Whole.Until);
        Assert.Null(CurveMoves.Later(last, Whole));
        Assert.Equal(last.From - TimeSpan.FromDays(2), CurveMoves.Earlier(last, Whole)!.Value.From);
        var nearStart = new Stretch(Whole.From + TimeSpan.FromDays(1), Whole.From + TimeSpan.FromDays(5));
        Assert.Equal(new Stretch(Whole.From, Whole.From + TimeSpan.FromDays(4)), CurveMoves.Earlier(nearStart, Whole));
        Assert.Null(CurveMoves.Earlier(Whole, Whole));
    }

    [Fact]
    public void AskedFor_IsKeptInsideAndNeverTooShort()
    {
        Assert.Equal(new Stretch(Whole.From, Whole.From + TimeSpan.FromDays(3)), CurveMoves.Kept(Whole.From - TimeSpan.FromDays(1), Whole.From + TimeSpan.FromDays(2), Whole));
        Assert.Equal(TimeSpan.FromHours(6), CurveMoves.Kept(Whole.From + TimeSpan.FromDays(3), Whole.From + TimeSpan.FromDays(3) + TimeSpan.FromMinutes(1), Whole)!.Value.Length);
        Assert.Null(CurveMoves.Kept(Whole.Until, Whole.Until + TimeSpan.FromDays(1), Whole));
        Assert.Null(CurveMoves.Kept(Whole.Until, Whole.From, Whole));
        Assert.Equal(Whole, CurveMoves.Kept(Whole.From - TimeSpan.FromDays(9), Whole.Until + TimeSpan.FromDays(9), Whole));
    }

    // Values at 1, 2, ..., 20 are the middles of twenty equal parts of a straight line from 0.5 to 20.5.
    [Fact]
    public void Dots_AreMiddlesOfEqualChances()
    {
        var fifty = ChanceDots.Of([.. Enumerable.Range(1, 20).Select(i => (double)i)], 50);
        Assert.Equal(50, fifty.Count);
        Assert.Equal(1, fifty[0]);
        Assert.Equal(20, fifty[^1]);
        // The 25th and 26th of fifty stand 0.2 on either side of the median, 10.5.
        Assert.Equal(10.3, fifty[24], 1e-9);
        Assert.Equal(10.7, fifty[25], 1e-9);
        Assert.Equal(fifty.Order(), fifty);
        Assert.Empty(ChanceDots.Of([], 50));
    }
}
