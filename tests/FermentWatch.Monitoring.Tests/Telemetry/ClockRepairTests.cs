using FermentWatch.Monitoring.Telemetry;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Telemetry;

public sealed class ClockRepairTests
{
    private static readonly DateTimeOffset Now = new(2026, 3, 1, 8, 0, 0, TimeSpan.Zero);
    private static readonly ReceivedAt Arrival = ReceivedAt.From(Now);

    [Theory]
    [InlineData(0, null)]
    [InlineData(10 * 60, null)]
    [InlineData((10 * 60) + 1, ClockRepair.Ahead)]
    [InlineData(-48 * 3600, null)]
    [InlineData(-400 * 86400, null)]
    [InlineData((-400 * 86400) - 1, ClockRepair.TooOld)]
    [InlineData(50 * 365 * 86400, ClockRepair.Ahead)]
    public void Stamp_IsTrustedWithinItsLimits(int secondsFromArrival, string? code)
    {
        var stamp = EventTime.From(Now.AddSeconds(secondsFromArrival));

        var verdict = ClockRepair.Judge(stamp, Arrival, ClockHistory.None);

        Assert.Equal(code, verdict.Code);
        Assert.Equal(code is null, verdict.Trusted);
        Assert.Equal(code is null ? stamp : EventTime.From(Now), verdict.At);
        Assert.Equal(code is null ? new ClockHistory(stamp, Arrival) : ClockHistory.None, verdict.Next);
    }

    [Theory]
    [InlineData(long.MaxValue, ClockRepair.Ahead)]
    [InlineData(long.MinValue, ClockRepair.TooOld)]
    public void StampBeyondAnyCalendar_IsRepaired(long microseconds, string code)
    {
        var verdict = ClockRepair.Judge(new EventTime(microseconds), Arrival, ClockHistory.None);

        Assert.Equal((code, EventTime.From(Now)), (verdict.Code, verdict.At));
    }

    [Fact]
    public void NoStamp_StandsAtItsArrival()
    {
        var verdict = ClockRepair.Judge(null, Arrival, ClockHistory.None);

        Assert.Equal(new ClockVerdict(EventTime.From(Now), true, null, ClockHistory.None), verdict);
    }

    [Theory]
    [InlineData(-180, true)]
    [InlineData(-181, false)]
    public void StepBackAgainstTheNewestStamp_IsTrustedUpToItsLimit(int days, bool trusted)
    {
        var history = new ClockHistory(EventTime.From(Now), Arrival);

        var verdict = ClockRepair.Judge(EventTime.From(Now.AddDays(days)), Arrival + TimeSpan.FromMinutes(1), history);

        Assert.Equal(trusted, verdict.Trusted);
        Assert.Equal(trusted ? null : ClockRepair.JumpedBack, verdict.Code);
        Assert.Equal(history, verdict.Next);
    }

    [Fact]
    public void ShuffledLateDelivery_IsTrustedThroughout()
    {
        const int seed = 5;
        var stamps = Enumerable.Range(0, 500).Select(hour => EventTime.From(Now.AddHours(-hour))).ToArray();
        new Random(seed).Shuffle(stamps);
        var history = ClockHistory.None;
        foreach (var stamp in stamps)
        {
            var verdict = ClockRepair.Judge(stamp, Arrival, history);
            Assert.True(verdict.Trusted, $"seed {seed}: {stamp} after {history.DeviceTime}");
            Assert.Equal(stamp, verdict.At);
            history = verdict.Next;
        }
    }

    [Fact]
    public void OwnClockNotSet_BelievesTheDevice()
    {
        var boot = ReceivedAt.From(DateTimeOffset.UnixEpoch.AddMinutes(3));
        var stamp = EventTime.From(Now);

        var told = ClockRepair.Judge(stamp, boot, ClockHistory.None);
        var bare = ClockRepair.Judge(null, boot, ClockHistory.None);

        Assert.Equal((stamp, true), (told.At, told.Trusted));
        Assert.Equal((false, ClockRepair.ArrivalClockNotSet), (bare.Trusted, bare.Code));
    }
}
