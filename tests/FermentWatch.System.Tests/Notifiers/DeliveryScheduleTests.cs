using FermentWatch.Infrastructure.Notifiers;
using FermentWatch.Monitoring.Telemetry;
using Xunit;

namespace FermentWatch.System.Tests.Notifiers;

public sealed class DeliveryScheduleTests
{
    private static readonly ReceivedAt First = ReceivedAt.From(new DateTimeOffset(2026, 3, 2, 8, 0, 0, TimeSpan.Zero));
    private static readonly DeliveryResult.TryAgain Again = new(Reason.Of("relay-unreachable"), NotBefore: null);

    [Fact]
    public void RelayThatIsGoneForGood_IsTriedForTwentyFourHoursAndThenGivenUp()
    {
        var (attempts, at, steps) = (0, First, new List<TimeSpan>());
        for (ReceivedAt? next = First; next is { } due; next = DeliverySchedule.Next(attempts, First, due, Again))
        {
            steps.Add(due - at);
            (attempts, at) = (attempts + 1, due);
        }

        Assert.Equal(DeliverySchedule.Attempts, attempts);
        Assert.Equal(TimeSpan.FromHours(24), at - First);
        Assert.True(steps.Max() <= TimeSpan.FromHours(4));
        Assert.Equal(TimeSpan.FromSeconds(30), steps[1]);
    }

    [Fact]
    public void DeliveredOrRefused_IsNotTriedAgain()
    {
        Assert.Null(DeliverySchedule.Next(1, First, First, new DeliveryResult.Delivered()));
        Assert.Null(DeliverySchedule.Next(1, First, First, new DeliveryResult.Refused(Reason.Of("relay-refuses"))));
    }

    [Fact]
    public void RelaysOwnWord_IsHonored()
    {
        var wanted = First + TimeSpan.FromHours(2);

        Assert.Equal(wanted, DeliverySchedule.Next(1, First, First, Again with { NotBefore = wanted }));
    }

    [Fact]
    public void RelaysOwnWordBeforeTheNextStep_DoesNotHasten() =>
        Assert.Equal(First + TimeSpan.FromSeconds(30), DeliverySchedule.Next(1, First, First, Again with { NotBefore = First }));

    [Fact]
    public void RelaysOwnWordBeyondTheWindow_IsCutToItsEnd() =>
        Assert.Equal(First + TimeSpan.FromHours(24), DeliverySchedule.Next(1, First, First, Again with { NotBefore = First + TimeSpan.FromDays(900) }));

    [Fact]
    public void ClockThatLeapsYearsAhead_UsesUpNoAttempts()
    {
        var later = First + TimeSpan.FromDays(20_000);

        Assert.Equal(later + TimeSpan.FromSeconds(90), DeliverySchedule.Next(2, First, later, Again));
    }

    [Fact]
    public void ClockThatGoesBackYears_DoesNotPutItOffByYears()
    {
        var earlier = First + TimeSpan.FromDays(-10_000);
        var next = DeliverySchedule.Next(2, First, earlier, Again with { NotBefore = First });

        Assert.NotNull(next);
        Assert.InRange(next.Value - earlier, TimeSpan.Zero, TimeSpan.FromHours(24));
    }
}
