using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Pipeline;
using Xunit;

namespace FermentWatch.System.Tests.Notifiers;

/// <summary>Which channel takes over from one that fails, and when.</summary>
public sealed class SecondWayTests
{
    private static readonly DateTimeOffset Start = new(2026, 3, 2, 8, 0, 0, TimeSpan.Zero);
    private static readonly PersonalChannel[] People = [new("person-1-relay", null), new("person-1-mail", null), new("person-2-relay", null)];

    [Theory]
    [InlineData(2, 0, false, false)]
    [InlineData(3, 0, false, true)]
    [InlineData(1, 15, false, true)]
    [InlineData(1, 0, true, true)]
    public void FailingNotice_GoesAnotherWayAfterThreeFailuresAQuarterOfAnHourOrForGood(int attempts, int minutes, bool isGivenUp, bool isPassedOn)
    {
        var row = Row("person-1-relay", Severity.Warning) with { Attempts = attempts };
        var other = SecondWay.Find(row, isGivenUp, At(minutes), ["mail"], People, [row]);
        Assert.Equal(isPassedOn ? "mail" : null, other?.Channel);
        if (other is not null)
        {
            var draft = AlertJson.ReadDraft(other.Body);
            Assert.Equal(("mail", "by-other-way"), (draft.Channel, draft.Body[^1].Code));
            // The same again finds the way taken.
            var taken = new OutboxRow(other.Key, row.Batch, other.Channel, other.Body, At(minutes), At(minutes), 0, OutboxState.Waiting, null, null);
            Assert.Null(SecondWay.Find(row, isGivenUp, At(minutes), ["mail"], People, [taken, row]));
            // And a way that fails too is the end of it.
            Assert.Null(SecondWay.Find(taken with { Attempts = 9 }, isGivenUp: true, At(minutes), ["mail"], People, [taken, row]));
        }
    }

    [Fact]
    public void OnlyWhatCannotWait_GoesToAnotherPerson()
    {
        string? Way(Severity severity)
        {
            var (row, own) = (Row("person-1-relay", severity) with { Attempts = 3 }, Row("person-1-mail", severity));
            return SecondWay.Find(row, isGivenUp: false, At(0), [], People, [row, own])?.Channel;
        }

        Assert.Null(Way(Severity.Warning));
        Assert.Equal("person-2-relay", Way(Severity.Urgent));
    }

    [Fact]
    public void ChannelThatWasToldOfTheSame_IsNotToldAgain()
    {
        var row = Row("relay", Severity.Warning) with { Attempts = 3 };
        Assert.Null(SecondWay.Find(row, isGivenUp: false, At(0), ["relay", "mail"], [], [row, Row("mail", Severity.Warning)]));
        Assert.Equal("mail", SecondWay.Find(row, isGivenUp: false, At(0), ["relay", "mail"], [], [row, Row("mail", Severity.Warning) with { State = OutboxState.GivenUp }])?.Channel);
    }

    private static ReceivedAt At(int minutes) => ReceivedAt.From(Start.AddMinutes(minutes));

    private static OutboxRow Row(string channel, Severity severity)
    {
        var key = "sloe/stuck/sloe/1#1@" + channel;
        var draft = new OutboxDraft(key, channel, "sloe/stuck/sloe/1", new BatchId("sloe"), severity, Silent: false, Reason.Of("any"), ValueList.Of<Reason>(), At(0))
        {
            Alerts = ValueList.Of<string>("sloe/stuck/sloe/1"),
            Kind = TransitionKind.Raised,
        };
        return new OutboxRow(key, draft.Batch, channel, AlertJson.Write(draft), At(0), At(0), 1, OutboxState.Waiting, null, null);
    }
}
