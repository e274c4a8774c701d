using System.Net.ServerSentEvents;
using FermentWatch.Service.Dashboard;
using Microsoft.Extensions.Time.Testing;
using Xunit;

namespace FermentWatch.System.Tests.Dashboard;

public sealed class BoardTests
{
    private static CancellationToken Deadline => new CancellationTokenSource(TimeSpan.FromSeconds(60)).Token;

    [Fact]
    public async Task WatcherThatComesLate_IsToldEveryVersion()
    {
        var board = new Board(new FakeTimeProvider(InventedCellar.Now));
        board.Publish(InventedCellar.Full());
        var topics = new List<string>();
        await foreach (var change in board.WatchAsync(Deadline))
        {
            topics.Add(change.Topic);
            if (topics.Count == 8)
            {
                break;
            }
        }

        Assert.Equal(["alerts", "batch/damson", "batch/elder", "batch/heather", "batch/quince", "batch/rhubarb", "book", "messages"], topics.Order(StringComparer.Ordinal));
    }

    [Fact]
    public void OnlyTheMomentDiffers_NoVersionChanges()
    {
        var board = new Board(new FakeTimeProvider(InventedCellar.Now));
        board.Publish(InventedCellar.Full());
        var before = board.State.Versions;
        var later = InventedCellar.Of([.. InventedCellar.Full().Entries.Select(entry => entry with { View = entry.View with { Now = entry.View.Now + TimeSpan.FromMinutes(1) } })]);
        board.Publish(later with { ComputedAt = later.ComputedAt + TimeSpan.FromMinutes(1) });
        Assert.Same(before, board.State.Versions);
        Assert.Equal(later.ComputedAt + TimeSpan.FromMinutes(1), board.State.Snapshot.ComputedAt);
    }

    [Fact]
    public void OneBatchDiffers_ItsTopicAndTheBookChangeAlone()
    {
        var board = new Board(new FakeTimeProvider(InventedCellar.Now));
        board.Publish(InventedCellar.Of(InventedCellar.MidFerment(), InventedCellar.Silent()));
        var before = board.State.Versions;
        board.Publish(InventedCellar.Of(InventedCellar.MidFerment(present: 1.051), InventedCellar.Silent()));
        var changed = board.State.Versions.Where(version => before[version.Key] != version.Value).Select(version => version.Key).Order(StringComparer.Ordinal);
        Assert.Equal(["alerts", "batch/quince", "book"], changed);
    }

    [Fact]
    public async Task Publishing_ReachesAnOpenEventStream()
    {
        await using var site = await DashboardSite.StartAsync(InventedCellar.Of(InventedCellar.MidFerment()));
        using var stream = await site.Client.GetStreamAsync("live", Deadline);
        var isPublished = false;
        var first = "";
        await foreach (var item in SseParser.Create(stream).EnumerateAsync(Deadline))
        {
            if (!item.Data.StartsWith("batch/quince ", StringComparison.Ordinal))
            {
                continue;
            }

            if (isPublished)
            {
                Assert.NotEqual(first, item.Data);
                return;
            }

            (first, isPublished) = (item.Data, true);
            site.Board.Publish(InventedCellar.Of(InventedCellar.MidFerment(present: 1.051)));
        }

        Assert.Fail("The stream ended before the news came.");
    }

    [Fact]
    public async Task IdleStream_IsPinged()
    {
        await using var site = await DashboardSite.StartAsync(InventedCellar.Full());
        using var stream = await site.Client.GetStreamAsync("live", Deadline);
        var events = 0;
        await foreach (var item in SseParser.Create(stream).EnumerateAsync(Deadline))
        {
            if (item.EventType == "ping")
            {
                return;
            }

            if (++events == 8)
            {
                site.Time.Advance(TimeSpan.FromSeconds(25));
            }
        }

        Assert.Fail("The stream ended before a ping came.");
    }
}
