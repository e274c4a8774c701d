using FermentWatch.Infrastructure.Storage;
using Xunit;
using static FermentWatch.System.Tests.Storage.StoreOnDisk;

namespace FermentWatch.System.Tests.Storage;

/// <summary>Which messages are the same message. MQTT 3.1.1 [OASIS, 2014] section 3.3.1.1: DUP marks what may be a re-delivery; section 4.3.2: a packet id is free again after the acknowledgement.</summary>
public sealed class MessageIdentityTests
{
    public static TheoryData<string, InboundMessage, bool> SecondMessages => new()
    {
        { "redelivery", Message("20.5", 7, duplicate: true), true },
        { "redelivery that arrives later", Message("20.5", 7, duplicate: true, hours: 30), true },
        { "equal number sent again under the same packet id", Message("20.5", 7), false },
        { "equal number sent again under another packet id", Message("20.5", 8), false },
        { "equal number with DUP under another packet id", Message("20.5", 8, duplicate: true), false },
        { "another payload with DUP", Message("20.6", 7, duplicate: true), false },
        { "another topic with DUP", Message("20.5", 7, duplicate: true, topic: "cellar/d1/temperature"), false },
        { "another session with DUP", Message("20.5", 7, duplicate: true, session: "embedded/d2"), false },
        { "equal number at quality of service 0", Message("20.5", 0), false },
    };

    [Theory]
    [MemberData(nameof(SecondMessages))]
    public async Task SecondMessage_IsTheSameOnlyAsARedelivery(string what, InboundMessage second, bool isSame)
    {
        await using var disk = Open();
        var first = await disk.RecordAsync(Message("20.5", 7));

        var receipt = await disk.RecordAsync(second);

        Assert.True(isSame == receipt.AlreadyRecorded, what);
        Assert.True(isSame == (receipt.Sequence == first.Sequence), what);
        Assert.Equal(isSame ? 1 : 2, disk.Number("SELECT count(*) FROM inbox"));
        Assert.Equal(isSame ? 1 : 0, disk.Store.ReadCounts().Redelivered);
    }

    [Fact]
    public async Task ExactRepeatsAtQualityOfService0_AreNeverRedeliveries()
    {
        await using var disk = Open();
        await disk.RecordAsync(Message("20.5", 0));

        Assert.False((await disk.RecordAsync(Message("20.5", 0))).AlreadyRecorded);
        Assert.False((await disk.RecordAsync(Message("20.5", 0, duplicate: true))).AlreadyRecorded);
    }

    [Fact]
    public async Task Redelivery_IsKnownAfterARestart()
    {
        await using var disk = Open();
        var first = await disk.RecordAsync(Message("20.5", 7));
        await disk.RestartAsync();

        Assert.Equal(new InboxReceipt(first.Sequence, true), await disk.RecordAsync(Message("20.5", 7, duplicate: true)));
    }

    [Fact]
    public async Task RedeliveryOfARedelivery_IsKnown()
    {
        await using var disk = Open();
        // Its first delivery never reached us: the first that we see carries DUP.
        var first = await disk.RecordAsync(Message("20.5", 7, duplicate: true));

        Assert.False(first.AlreadyRecorded);
        Assert.Equal(new InboxReceipt(first.Sequence, true), await disk.RecordAsync(Message("20.5", 7, duplicate: true)));
    }

    [Fact]
    public async Task RedeliveryBesideItsFirst_IsKnownWithinOneTransaction()
    {
        await using var disk = Open();

        var receipts = await Task.WhenAll(Enumerable.Range(0, 20).Select(i => disk.RecordAsync(Message("20.5", 7, duplicate: i > 0))));

        Assert.Single(receipts, receipt => !receipt.AlreadyRecorded);
        Assert.Single(receipts.Select(receipt => receipt.Sequence).Distinct());
    }

    [Fact]
    public async Task ConfirmedMessage_CannotComeAgain()
    {
        await using var disk = Open();
        var first = await disk.RecordAsync(Message("20.5", 7));
        await disk.Store.ConfirmAcknowledgedAsync("embedded/d1", first.Sequence, Stop);

        Assert.False((await disk.RecordAsync(Message("20.5", 7, duplicate: true))).AlreadyRecorded);
    }

    [Fact]
    public async Task Confirmation_OutlivesARestartAndLeavesLaterMessagesInFlight()
    {
        await using var disk = Open();
        var first = await disk.RecordAsync(Message("20.5", 7));
        var second = await disk.RecordAsync(Message("20.5", 8));
        await disk.Store.ConfirmAcknowledgedAsync("embedded/d1", first.Sequence, Stop);
        await disk.RestartAsync();

        Assert.False((await disk.RecordAsync(Message("20.5", 7, duplicate: true))).AlreadyRecorded);
        Assert.Equal(new InboxReceipt(second.Sequence, true), await disk.RecordAsync(Message("20.5", 8, duplicate: true)));
    }

    [Fact]
    public async Task Confirmation_CountsForItsSessionAlone()
    {
        await using var disk = Open();
        var first = await disk.RecordAsync(Message("20.5", 7));
        await disk.Store.ConfirmAcknowledgedAsync("embedded/d2", first.Sequence, Stop);

        Assert.True((await disk.RecordAsync(Message("20.5", 7, duplicate: true))).AlreadyRecorded);
    }

    [Theory]
    [InlineData(99, true, false)]
    [InlineData(100, false, false)]
    [InlineData(99, true, true)]
    [InlineData(100, false, true)]
    public async Task Window_EndsAfterAHundredNewerMessages(int newer, bool isStillInFlight, bool restarts)
    {
        await using var disk = Open();
        var first = await disk.RecordAsync(Message("20.5", 7));
        for (var i = 1; i <= newer; i++)
        {
            await disk.RecordAsync(Message("20.5", (ushort)(100 + i)));
        }

        if (restarts)
        {
            await disk.RestartAsync();
        }

        var receipt = await disk.RecordAsync(Message("20.5", 7, duplicate: true));

        Assert.Equal(isStillInFlight, receipt.AlreadyRecorded);
        Assert.Equal(isStillInFlight, receipt.Sequence == first.Sequence);
    }

    [Fact]
    public async Task Window_IsNotMovedByQualityOfService0OrOtherSessions()
    {
        await using var disk = Open();
        await disk.RecordAsync(Message("20.5", 7));
        await Task.WhenAll(Enumerable.Range(1, 300).Select(i => disk.RecordAsync(
            i % 2 == 0 ? Message("20.5", 0) : Message("20.5", (ushort)i, session: "embedded/d2"))));

        Assert.True((await disk.RecordAsync(Message("20.5", 7, duplicate: true))).AlreadyRecorded);
    }

    [Fact]
    public async Task PacketIdUsedAgain_PushesTheOlderMessageOut()
    {
        await using var disk = Open();
        await disk.RecordAsync(Message("20.5", 7));
        var second = await disk.RecordAsync(Message("20.9", 7));

        Assert.False((await disk.RecordAsync(Message("20.5", 7, duplicate: true))).AlreadyRecorded);
        Assert.Equal(2, second.Sequence);
    }

    [Fact]
    public async Task WindowOnDisk_StaysBounded()
    {
        await using var disk = Open();
        for (var i = 1; i <= 1000; i++)
        {
            await disk.RecordAsync(Message("20.5", (ushort)i));
        }

        Assert.InRange(disk.Number("SELECT count(*) FROM in_flight"), 100, 2 * SessionWindows.Length);
    }
}
