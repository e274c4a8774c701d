using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Alerting;

public sealed class PersonalChannelTests
{
    private static readonly DateTimeOffset Night = new(2026, 3, 2, 23, 30, 0, TimeSpan.Zero);
    private static readonly PersonalChannel Sleeper = new("person-1-relay", new QuietHours(new TimeOnly(22, 0), new TimeOnly(7, 0)));
    private static readonly ReceivedAt Morning = ReceivedAt.From(new DateTimeOffset(2026, 3, 3, 7, 0, 0, TimeSpan.Zero));
    private static readonly ReceivedAt Soon = ReceivedAt.From(Night) + AlertSettings.Default.GroupWait;

    [Fact]
    public void WarningAtNight_WaitsForTheMorningOfThisListenerAlone()
    {
        Assert.Equal(Morning, Due(Sleeper, TransitionKind.Raised, Severity.Warning));
        Assert.Equal(Morning, Due(Sleeper, TransitionKind.Repeated, Severity.Action));
        Assert.Equal(Morning, Due(Sleeper, TransitionKind.FoundInPast, Severity.Warning));
        Assert.Equal(Soon, Due(Sleeper with { QuietHours = null }, TransitionKind.Raised, Severity.Warning));
        Assert.Equal(Soon, Due(Sleeper with { QuietHours = new QuietHours(new TimeOnly(0, 0), new TimeOnly(7, 0)) }, TransitionKind.Raised, Severity.Warning));
    }

    [Fact]
    public void UrgentAtNight_IsToldAtOnce() => Assert.Equal(Soon, Due(Sleeper, TransitionKind.Raised, Severity.Urgent));

    [Fact]
    public void ClockNotTrusted_SpeaksRatherThanWaits() =>
        Assert.Equal(Soon, Sleeper.Due(TransitionKind.Raised, Severity.Warning, AlertSettings.Default, At(Night, isTrusted: false)));

    [Fact]
    public void ClearedAtNight_AllClearComesAtOnceAsItMakesNoSoundAndAWithdrawalInTheMorning()
    {
        Assert.Equal(Soon, Due(Sleeper, TransitionKind.Cleared, Severity.Warning));
        Assert.Equal(Morning, Due(Sleeper, TransitionKind.Withdrawn, Severity.Warning));
        Assert.Equal(Soon, Due(Sleeper, TransitionKind.Cleared, Severity.Urgent));
    }

    [Fact]
    public void OnlySomeRulesAndBatches_OthersAreNotForThisListener()
    {
        var (heather, sloe) = (new BatchId("heather"), new BatchId("sloe"));
        Assert.True(Sleeper.Wants("no-start", heather));
        var picky = Sleeper with { WithoutRules = ValueList.Of<string>("no-start"), OnlyBatches = ValueList.Of<BatchId>(sloe) };
        Assert.Equal([false, false, true], [picky.Wants("no-start", sloe), picky.Wants("sensor-silent", heather), picky.Wants("sensor-silent", sloe)]);
    }

    [Fact]
    public void WithoutPersonalChannels_TheNightIsEverybodys()
    {
        var house = AlertSettings.Default with { Channels = ValueList.Of<string>("relay") };
        Assert.Equal((QuietHours.Default, null), (house.CommonQuietHours, Assert.Single(house.Listeners).QuietHours));
        var shared = house with { Personal = ValueList.Of<PersonalChannel>(Sleeper) };
        Assert.Null(shared.CommonQuietHours);
        Assert.Equal([QuietHours.Default, Sleeper.QuietHours], shared.Listeners.Select(one => one.QuietHours));
    }

    private static ReceivedAt Due(PersonalChannel listener, TransitionKind kind, Severity severity) =>
        listener.Due(kind, severity, AlertSettings.Default, At(Night));

    private static Pass At(DateTimeOffset now, bool isTrusted = true) => new(ReceivedAt.From(now), TimeSpan.Zero, TimeZoneInfo.Utc, isTrusted);
}
