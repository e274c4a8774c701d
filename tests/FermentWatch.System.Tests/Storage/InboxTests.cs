using System.Text;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Telemetry;
using Xunit;
using static FermentWatch.System.Tests.Storage.StoreOnDisk;
using DecodedMessage = FermentWatch.Infrastructure.Storage.DecodedMessage;
using RejectedField = FermentWatch.Infrastructure.Storage.RejectedField;

namespace FermentWatch.System.Tests.Storage;

public sealed class InboxTests
{
    [Fact]
    public async Task Payload_ComesBackByteForByte()
    {
        await using var disk = Open();
        var bytes = Enumerable.Range(0, 256).Select(i => (byte)i).ToArray();
        var message = new InboundMessage("cellar/<b>'; drop table inbox; --/ü", bytes, bytes.Length, Arrival(1), "embedded/d1", 3, false, false);

        await disk.RecordAsync(message);

        var row = Assert.Single(disk.Store.ReadUndecoded().Messages);
        Assert.Equal(message.Topic, row.Topic);
        Assert.Equal(bytes, row.Payload.ToArray());
        Assert.Equal(message.ReceivedAt, row.ReceivedAt);
    }

    [Fact]
    public async Task PayloadOfExactly8Kilobytes_IsKeptWhole()
    {
        await using var disk = Open();

        await disk.RecordAsync(Message(new string('1', 8192), 1));

        Assert.Equal(8192, Assert.Single(disk.Store.ReadUndecoded().Messages).Payload.Length);
    }

    [Theory]
    [InlineData(8193, 8193)]
    [InlineData(256, 1_000_000)]
    public async Task LargerPayload_KeepsFirstBytesAndSizeAndIsNotDecoded(int handedOver, int size)
    {
        await using var disk = Open();
        var message = Message(new string('1', handedOver), 1) with { Size = size };
        await disk.RecordAsync(message);

        var next = disk.Store.ReadUndecoded();
        Assert.Empty(next.Messages);
        await disk.Store.CommitDecodedAsync([], next.UpTo, Stop);

        var refused = Assert.Single(disk.Store.ReadRefused(10));
        Assert.Equal(InboxOutcome.TooLarge, refused.Outcome);
        Assert.Equal(size, refused.Size);
        Assert.Equal(256, refused.FirstBytes.Length);
        Assert.Equal(1, disk.Store.ReadCounts().Messages[InboxOutcome.TooLarge]);
        Assert.Equal(256, disk.Number("SELECT length(payload) FROM inbox"));
    }

    [Fact]
    public async Task RedeliveryOfATooLargeMessage_IsKnown()
    {
        await using var disk = Open();
        var message = Message(new string('1', 256), 1) with { Size = 9000 };
        await disk.RecordAsync(message);

        Assert.False((await disk.RecordAsync(message with { Size = 9001, Duplicate = true })).AlreadyRecorded);
        Assert.True((await disk.RecordAsync(message with { Size = 9001, Duplicate = true })).AlreadyRecorded);
    }

    [Fact]
    public async Task RetainedMessage_NeverBecomesAReading()
    {
        await using var disk = Open();
        var receipt = await disk.RecordAsync(Message("1.050", 0, lastKnown: true));

        var next = disk.Store.ReadUndecoded();
        Assert.Empty(next.Messages);
        // Even a decoder that hands it over all the same stores nothing.
        await disk.Store.CommitDecodedAsync([new DecodedMessage(receipt.Sequence, [Gravity(1.050, null)], [])], next.UpTo, Stop);

        Assert.Empty(disk.Readings());
        Assert.Equal(1, disk.Store.ReadCounts().Messages[InboxOutcome.LastKnown]);
        Assert.Equal(InboxOutcome.LastKnown, Assert.Single(disk.Store.ReadTopics()).LastOutcome);
    }

    [Fact]
    public async Task MessagesToDecode_ComeInOrderFiftyAtATime()
    {
        await using var disk = Open();
        for (var i = 0; i < 60; i++)
        {
            await disk.RecordAsync(Message("1.050", 0, lastKnown: i == 10));
        }

        var first = disk.Store.ReadUndecoded();
        Assert.Equal(49, first.Messages.Count);
        Assert.Equal(50, first.UpTo);
        await disk.Store.CommitDecodedAsync([.. first.Messages.Select(row => new DecodedMessage(row.Sequence, [], []))], first.UpTo, Stop);
        var second = disk.Store.ReadUndecoded();

        Assert.Equal(Enumerable.Range(51, 10).Select(i => (long)i), second.Messages.Select(row => row.Sequence));
        Assert.Equal(10, disk.Store.ReadCounts().Waiting);
        Assert.Equal(49, disk.Store.ReadCounts().Messages[InboxOutcome.NotMapped]);
    }

    [Fact]
    public async Task MessageMissingAmongDecodedOnes_IsRefusedAndNothingIsWritten()
    {
        await using var disk = Open();
        await disk.RecordAsync(Message("1.050", 1));
        await disk.RecordAsync(Message("1.049", 2));

        await Assert.ThrowsAsync<ArgumentException>(() =>
            disk.Store.CommitDecodedAsync([new DecodedMessage(1, [Gravity(1.050, null)], [])], 2, Stop));

        Assert.Empty(disk.Readings());
        Assert.Equal(2, disk.Store.ReadUndecoded().Messages.Count);
    }

    [Fact]
    public async Task DecodedMessages_HandedOverTwice_AreStoredOnce()
    {
        await using var disk = Open();
        await disk.RecordAsync(Message("1.050", 1));
        DecodedMessage[] decoded = [new DecodedMessage(1, [Gravity(1.050, null)], [])];

        await disk.Store.CommitDecodedAsync(decoded, 1, Stop);
        var again = await disk.Store.CommitDecodedAsync(decoded, 1, Stop);

        Assert.Equal(0, again.Stored);
        Assert.Single(disk.Readings());
    }

    [Fact]
    public async Task RefusedMessage_IsShownWithTopicFirstBytesAndReasons()
    {
        await using var disk = Open();
        await disk.RecordAsync(Message("1012", 1, topic: "cellar/a"));
        await disk.RecordAsync(Message("{\"g\":1.05,\"t\":null}", 2, topic: "cellar/b", hours: 1));
        RejectedField[] first = [new(string.Empty, Reason.Of("not-a-number", new ReasonValue.Name("1012"), new ReasonValue.Count(3)))];
        RejectedField[] second =
        [
            new("/t", Reason.Of(
                "out-of-range",
                new ReasonValue.Degrees(double.PositiveInfinity),
                new ReasonValue.Gravity(0.1, true),
                new ReasonValue.Moment(At(2)),
                new ReasonValue.Length(TimeSpan.FromMinutes(3)),
                new ReasonValue.Odds(0.25))),
        ];
        await disk.Store.CommitDecodedAsync(
            [new DecodedMessage(1, [], first), new DecodedMessage(2, [Gravity(1.05, null)], second)], 2, Stop);

        var refused = disk.Store.ReadRefused(10);

        Assert.Equal(["cellar/b", "cellar/a"], refused.Select(message => message.Topic));
        Assert.Equal([InboxOutcome.PartlyRejected, InboxOutcome.Rejected], refused.Select(message => message.Outcome));
        Assert.Equal("1012", Encoding.UTF8.GetString(refused[1].FirstBytes.Span));
        Assert.Equal(second, refused[0].Rejections);
        Assert.Equal(first, refused[1].Rejections);
        Assert.Single(disk.Store.ReadRefused(1));
        Assert.Equal(2, disk.Store.ReadCounts().FieldsRejected);
    }

    [Fact]
    public async Task Topic_KeepsItsLastMessage()
    {
        await using var disk = Open();
        await disk.RecordAsync(Message("1.050", 1, hours: 0));
        await disk.RecordAsync(Message("1.049", 2, hours: 1));
        await disk.Store.CommitDecodedAsync(
            [new DecodedMessage(1, [Gravity(1.050, null)], []), new DecodedMessage(2, [Gravity(1.049, null)], [])], 2, Stop);

        var topic = Assert.Single(disk.Store.ReadTopics());

        Assert.Equal(("cellar/d1/gravity", 2, Arrival(1), InboxOutcome.Stored), (topic.Topic, topic.Messages, topic.LastReceivedAt, topic.LastOutcome));
        Assert.Equal("1.049", Encoding.UTF8.GetString(topic.FirstBytes.Span));
    }
}
