using FermentWatch.Monitoring.Telemetry;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Telemetry;

/// <summary>Stamps of a recording whose device clock is wrong at the begin, for a while, or still at the cut.</summary>
public class RecordedClockAtCutTests
{
    private static readonly EventTime Start = EventTime.From(new DateTimeOffset(2026, 3, 1, 8, 0, 0, TimeSpan.Zero));

    private static EventTime At(double hours) => Start + TimeSpan.FromHours(hours);

    private static EventTime In1970(double hours) => new EventTime(0) + TimeSpan.FromHours(hours);

    [Fact]
    public void ClockThatBeginsIn1970_IsPlacedBeforeItsFirstTrueStamp()
    {
        EventTime[] stamps = [In1970(0), In1970(0.5), In1970(1), At(10), At(10.5), At(11)];
        Check(stamps, At(12), [8.5, 9, 9.5, 10, 10.5, 11], trusted: 3);
    }

    [Fact]
    public void ClockThatRestartsIn1970AndIsSetAfterASilence_IsBelievedAgain()
    {
        EventTime[] stamps = [At(0), At(0.5), At(1), In1970(0), In1970(0.5), At(20), At(20.5)];
        Check(stamps, At(21), [0, 0.5, 1, 1.5, 2, 20, 20.5], trusted: 5);
    }

    [Fact]
    public void ClockThatIsStillAheadAtTheCut_IsPulledBackByWhatLookedLikeASilence()
    {
        EventTime[] stamps = [At(0), At(0.5), At(1), At(7.5), At(8), At(8.5)];
        Check(stamps, At(3), [0, 0.5, 1, 1.5, 2, 2.5], trusted: 3);
    }

    [Fact]
    public void ClockThatWasNeverSet_EndsNow() =>
        Check([In1970(0), In1970(1), In1970(2)], At(5), [3, 4, 5], trusted: 0);

    [Fact]
    public void ClockThatIsRight_IsLeftAlone()
    {
        EventTime[] stamps = [At(0), At(1), At(0.5), At(30), At(30.5)];
        Check(stamps, At(31), [0, 1, 0.5, 30, 30.5], trusted: 5);
    }

    private static void Check(EventTime[] stamps, EventTime now, double[] hours, int trusted)
    {
        var placed = RecordedClock.FromArrivalOrder(stamps, now);
        Assert.Equal(hours, placed.Select(one => (one.At - Start).TotalHours));
        Assert.Equal(trusted, placed.Count(one => one.ClockTrusted));
    }
}
