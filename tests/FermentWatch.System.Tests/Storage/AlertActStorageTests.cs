using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Alerting.Services;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using Xunit;
using static FermentWatch.System.Tests.Storage.StoreOnDisk;

namespace FermentWatch.System.Tests.Storage;

public sealed class AlertActStorageTests
{
    private const string Key = "sloe/temperature-band/float/1";
    private static readonly BatchId Id = new("sloe");

    [Fact]
    public async Task PassThatAnActOvertook_IsNotKeptAndTheActIs()
    {
        await using var disk = Open();
        var set = await FilledAsync(disk);
        var seen = disk.Store.ReadBatch(Id)!.Revision;
        Assert.Equal(ActOutcome.Done, await disk.Store.ActAsync(Id, Key, AlertAct.OnIt, Arrival(1), Stop));

        Assert.False(await disk.Store.CommitPassAsync(Pass(seen, set), Stop));

        var kept = AlertJson.ReadSet(disk.Store.ReadAlertSet(Id)!);
        Assert.Equal(Arrival(1), kept.Alerts[0].AcknowledgedAt);
    }

    [Fact]
    public async Task ActSaidBeforeOrOnNoStandingAlert_LeavesTheRevision()
    {
        await using var disk = Open();
        await FilledAsync(disk);
        await disk.Store.ActAsync(Id, Key, AlertAct.Wrong, Arrival(1), Stop);
        var revision = disk.Store.ReadBatch(Id)!.Revision;

        Assert.Equal(ActOutcome.SaidBefore, await disk.Store.ActAsync(Id, Key, AlertAct.Wrong, Arrival(2), Stop));
        Assert.Equal(ActOutcome.NotStanding, await disk.Store.ActAsync(Id, "sloe/other/float/2", AlertAct.OnIt, Arrival(2), Stop));
        Assert.Equal(ActOutcome.NotStanding, await disk.Store.ActAsync(new BatchId("no-such"), Key, AlertAct.OnIt, Arrival(2), Stop));

        Assert.Equal(revision, disk.Store.ReadBatch(Id)!.Revision);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task ActOnTheServiceItself_IsKeptWithItsTimers(bool isByLink)
    {
        await using var disk = Open();
        var timer = new ServiceTimer("broker-lost", "broker", new AlertState(AlertPhase.Raised, new RuleTime(7), new RuleTime(9), false, TimeSpan.FromMinutes(5), 6), Arrival(0));
        var alert = new TrackedAlert(
            "service/broker-lost/broker/1", "broker-lost", "broker", Severity.Warning, At(0), At(0), null, AlertStanding.Raised, AlertStanding.Raised,
            Arrival(0), TimeSpan.FromHours(3), 1, 0, null, "service/broker-lost/broker/1", Reason.Of("any"));
        var set = ServiceSet.Empty with { Timers = ValueList.Of(timer), Alerts = ValueList.Of(alert), Ran = TimeSpan.FromHours(4), NextNumber = 2 };
        Assert.True(await disk.Store.CommitPassAsync(new PassResult(null, 0, Arrival(0), ServiceSet.Write(set), [], null), Stop));

        var outcome = isByLink
            ? (await disk.Store.ActByLinkAsync(alert.Thread, AlertAct.OnIt, "link-1", DateTimeOffset.UtcNow.AddDays(1), Arrival(1), Stop)).Outcome
            : await disk.Store.ActAsync(new BatchId(""), alert.Key, AlertAct.OnIt, Arrival(1), Stop);

        Assert.Equal(ActOutcome.Done, outcome);
        Assert.Equal(set with { Alerts = ValueList.Of(alert with { AcknowledgedAt = Arrival(1) }) }, ServiceSet.Read(disk.Store.ReadAlertSet(null)!));
    }

    private static async Task<AlertSet> FilledAsync(StoreOnDisk disk)
    {
        await disk.Store.ReplaceBatchesAsync([new Batch(Id, "Sloe wine", FermentKind.Wine, null, null, At(0), null, null, null, ValueList.Of<SensorAttachment>())], Stop);
        var set = AlertSet.Empty with
        {
            Alerts = ValueList.Of(new TrackedAlert(
                Key, "temperature-band", "float", Severity.Warning, At(0), At(0), null, AlertStanding.Raised, AlertStanding.Raised,
                Arrival(0), TimeSpan.Zero, 1, 0, null, Key, Reason.Of("any"))),
        };
        Assert.True(await disk.Store.CommitPassAsync(Pass(disk.Store.ReadBatch(Id)!.Revision, set), Stop));
        return set;
    }

    private static PassResult Pass(long revision, AlertSet set) => new(Id, revision, Arrival(0), AlertJson.Write(set), [], null);
}
