using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Alerting.Services;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Dashboard.Words;
using FermentWatch.Service.Texts;
using Xunit;

namespace FermentWatch.System.Tests.Notifiers;

/// <summary>Every notice about the service itself, made by its rules from facts, fits and says what to do.</summary>
public sealed class ServiceNoticeTests
{
    private static readonly DateTimeOffset Start = new(2026, 3, 2, 8, 0, 0, TimeSpan.Zero);
    private static readonly ServiceFacts Well = new(
        true, ReceivedAt.From(Start), new DiskSpace(50_000_000_000, 100_000_000_000), false, new BackupFact(ReceivedAt.From(Start), ReceivedAt.From(Start)), ValueList.Of(new ChannelFact("relay", 0, null)));

    private static readonly Dictionary<string, ServiceFacts> Samples = new()
    {
        ["broker-gone"] = Well with { IsBrokerUp = false },
        ["broker-never-there"] = Well with { IsBrokerUp = false, LastMessageAt = null },
        ["storage-writes-fail"] = Well with { AreWritesFailing = true },
        ["storage-space-low"] = Well with { Space = new DiskSpace(1_000_000, 100_000_000_000_000) },
        ["storage-backup-old"] = Well with { Backup = new BackupFact(ReceivedAt.From(Start.AddDays(-30)), ReceivedAt.From(Start.AddDays(-40))) },
        ["storage-backup-none"] = Well with { Backup = new BackupFact(null, ReceivedAt.From(Start.AddDays(-40))) },
        ["storage-backup-bad"] = Well with { Backup = new BackupFact(ReceivedAt.From(Start), ReceivedAt.From(Start), IsSound: false) },
        ["channel-fails"] = Well with { Channels = ValueList.Of(new ChannelFact("person-" + new string('8', 60) + "-mail", 12, ReceivedAt.From(Start.AddDays(-3)))) },
    };

    public static TheoryData<string> Names => [.. Samples.Keys];

    [Theory]
    [MemberData(nameof(Names))]
    public void EachNotice_FitsAndNamesItsAction(string sample)
    {
        var settings = AlertSettings.Default with { Channels = ValueList.Of<string>("mail") };
        var (set, drafts) = (ServiceSet.Empty, new List<OutboxDraft>());
        for (var minute = 0; minute <= 40; minute++)
        {
            var facts = minute <= 20 ? Samples[sample] : Well with { Channels = ValueList.Of(Samples[sample].Channels.Select(one => one with { Failures = 0, FailingSince = null })) };
            var pass = new Pass(ReceivedAt.From(Start.AddMinutes(minute)), TimeSpan.FromMinutes(minute > 0 ? 1 : 0), TimeZoneInfo.Utc);
            var step = ServiceAlerts.Step(set, facts, new ServiceLimits(), settings, pass);
            set = step.Now;
            drafts.AddRange(step.Drafts);
        }

        Assert.Equal(2, drafts.Count);
        Assert.Equal(sample, drafts[0].Body[0].Code);
        Assert.True(ReasonWords.Knows(sample));
        foreach (var notice in drafts.Select(draft => NoticeText.Write(draft, new Reader(TimeZoneInfo.Utc), ReceivedAt.From(Start.AddHours(6)), link: null)))
        {
            Assert.InRange(notice.Title.Length, 5, 40);
            Assert.InRange(notice.Text.Length, 5, 240);
            Assert.DoesNotContain('{', notice.Title + notice.Text);
            Assert.EndsWith(".", notice.Text, StringComparison.Ordinal);
        }

        Assert.True(drafts[0].Body.Count >= 2, "the notice names no action");
        Assert.True(drafts[1].Silent);
    }
}
