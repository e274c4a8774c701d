using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;
using Xunit;
using static FermentWatch.System.Tests.Storage.StoreOnDisk;

namespace FermentWatch.System.Tests.Storage;

public sealed class BatchAndPassTests
{
    private static readonly BatchId Id = new("heather-mead");

    [Fact]
    public async Task Batch_ComesBackAsItWasTold()
    {
        await using var disk = Open();
        var bare = new Batch(
            new BatchId("bare"), "Bare", FermentKind.Cider, null, null, At(-100), null, null, null, ValueList.Of<SensorAttachment>());

        await disk.Store.ReplaceBatchesAsync([bare, Mead()], Stop);

        Assert.Equal([Mead(), bare], disk.Store.ReadBatches());
    }

    [Fact]
    public async Task SameBatchesAgain_ChangeNothing()
    {
        await using var disk = Open();
        Assert.Equal([Id], await disk.Store.ReplaceBatchesAsync([Mead()], Stop));

        Assert.Empty(await disk.Store.ReplaceBatchesAsync([Mead()], Stop));
        Assert.Equal(1, disk.Store.ReadBatch(Id)!.Revision);
    }

    [Fact]
    public async Task ChangedAttachment_RaisesTheRevision()
    {
        await using var disk = Open();
        await disk.Store.ReplaceBatchesAsync([Mead()], Stop);
        var ended = Mead() with { Sensors = ValueList.Of(Mead().Sensors[0] with { Until = At(10) }) };

        Assert.Equal([Id], await disk.Store.ReplaceBatchesAsync([ended], Stop));

        Assert.Equal(2, disk.Store.ReadBatch(Id)!.Revision);
        Assert.Equal(ended, Assert.Single(disk.Store.ReadBatches()));
    }

    [Fact]
    public async Task BatchLeftOut_IsKeptButNotListed()
    {
        await using var disk = Open();
        await disk.Store.ReplaceBatchesAsync([Mead()], Stop);

        await disk.Store.ReplaceBatchesAsync([], Stop);

        Assert.Empty(disk.Store.ReadBatches());
        Assert.NotNull(disk.Store.ReadBatch(Id));
        Assert.Equal([Id], await disk.Store.ReplaceBatchesAsync([Mead()], Stop));
    }

    [Fact]
    public async Task Facts_HoldTheReadingsWithinTheAttachment()
    {
        await using var disk = Open();
        var until = Mead() with { Sensors = ValueList.Of(Mead().Sensors[0] with { Until = At(10) }) };
        await disk.Store.ReplaceBatchesAsync([until], Stop);

        Assert.Empty((await disk.ReadingAsync(1.099, At(-1), 20)).Batches);
        Assert.Equal([Id], (await disk.ReadingAsync(1.098, At(0), 20)).Batches);
        Assert.Equal([Id], (await disk.ReadingAsync(1.097, At(9), 20)).Batches);
        Assert.Equal([Id], (await disk.ReadingAsync(1.096, At(9), 20)).Batches);
        Assert.Empty((await disk.ReadingAsync(1.095, At(10), 20)).Batches);

        var series = Assert.Single(disk.Store.ReadBatch(Id)!.Facts.Series);
        Assert.Equal(GravitySeries, series.Series);
        Assert.Equal([1.098, 1.097, 1.096], series.Readings.Select(reading => reading.Value));
    }

    [Fact]
    public async Task UnknownBatch_IsNull()
    {
        await using var disk = Open();

        Assert.Null(disk.Store.ReadBatch(new BatchId("none")));
        Assert.Null(disk.Store.ReadAlertSet(null));
    }

    [Fact]
    public async Task Journal_KeepsSupersededAndUndoneEntries()
    {
        await using var disk = Open();
        await disk.Store.ReplaceBatchesAsync([Mead()], Stop);
        var first = await disk.Store.AppendJournalAsync(Id, new JournalDraft(JournalKind.Racked, At(5), "racked"), null, Stop);
        var second = await disk.Store.AppendJournalAsync(
            Id, new JournalDraft(JournalKind.MeasuredByHand, At(4), "ünder \"quotes\"", SpecificGravity.FromRatio(1.012), first), null, Stop);

        Assert.True(await disk.Store.UndoJournalAsync(Id, first, Stop));
        Assert.False(await disk.Store.UndoJournalAsync(Id, first, Stop));
        Assert.False(await disk.Store.UndoJournalAsync(new BatchId("other"), second, Stop));

        JournalEntry[] expected =
        [
            new(second, JournalKind.MeasuredByHand, At(4), "ünder \"quotes\"", SpecificGravity.FromRatio(1.012), first, false),
            new(first, JournalKind.Racked, At(5), "racked", null, null, true),
        ];
        Assert.Equal(expected, disk.Store.ReadJournal(Id));
        Assert.Equal(expected, disk.Store.ReadBatch(Id)!.Facts.Journal);
        Assert.Equal(4, disk.Store.ReadBatch(Id)!.Revision);
    }

    [Fact]
    public async Task JournalEntryThatTheHouseBegan_KeepsWhatItWasMadeOf()
    {
        await using var disk = Open();
        await disk.Store.ReplaceBatchesAsync([Mead()], Stop);
        var filled = new FilledText("sheet/tannin-powder", ValueList.Of(new FilledValue("powder", 1.25, 2, null), new FilledValue("additive", null, 0, "honey")), 7);
        await disk.Store.AppendJournalAsync(Id, new JournalDraft(JournalKind.Note, At(5), "By hand, and more") { Filled = filled }, null, Stop);

        Assert.Equal(filled, Assert.Single(disk.Store.ReadJournal(Id)).Filled);
        Assert.Equal(filled, Assert.Single(disk.Store.ExportJournal(Id)).ToEntry(default).Filled);
    }

    [Fact]
    public async Task JournalEntryUnderAKnownKey_IsNotAddedAgain()
    {
        await using var disk = Open();
        await disk.Store.ReplaceBatchesAsync([Mead()], Stop);
        var draft = new JournalDraft(JournalKind.NutrientAdded, At(5), "first");

        var first = await disk.Store.AppendJournalAsync(Id, draft, "configuration/1", Stop);
        var again = await disk.Store.AppendJournalAsync(Id, draft with { Text = "second" }, "configuration/1", Stop);

        Assert.Equal(first, again);
        Assert.Equal("first", Assert.Single(disk.Store.ReadJournal(Id)).Text);
        Assert.Equal(2, disk.Store.ReadBatch(Id)!.Revision);
    }

    [Fact]
    public async Task JournalEntryWithoutBatchOrTooLong_IsRefusedWithWords()
    {
        await using var disk = Open();
        await disk.Store.ReplaceBatchesAsync([Mead()], Stop);
        var draft = new JournalDraft(JournalKind.Note, At(0), "x");

        var noBatch = await Assert.ThrowsAsync<ArgumentException>(() => disk.Store.AppendJournalAsync(new BatchId("none"), draft, null, Stop));
        var noEntry = await Assert.ThrowsAsync<ArgumentException>(() => disk.Store.AppendJournalAsync(Id, draft with { Supersedes = 99 }, null, Stop));
        var tooLong = await Assert.ThrowsAsync<ArgumentException>(() => disk.Store.AppendJournalAsync(Id, draft with { Text = new string('x', 501) }, null, Stop));

        Assert.Contains("'none'", noBatch.Message, StringComparison.Ordinal);
        Assert.Contains("99", noEntry.Message, StringComparison.Ordinal);
        Assert.Contains("501", tooLong.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task PassOvertakenByAJournalEdit_WritesNothing()
    {
        await using var disk = Open();
        await disk.Store.ReplaceBatchesAsync([Mead()], Stop);
        var pass = Pass(disk.Store.ReadBatch(Id)!.Revision, "{\"n\":1}", "k1");
        await disk.Store.AppendJournalAsync(Id, new JournalDraft(JournalKind.Racked, At(5), string.Empty), null, Stop);

        Assert.False(await disk.Store.CommitPassAsync(pass, Stop));

        Assert.Null(disk.Store.ReadAlertSet(Id));
        Assert.Empty(disk.Store.ReadOutbox(10));
        Assert.Empty(disk.Store.ReadForecasts(Id));
        Assert.True(await disk.Store.CommitPassAsync(pass with { Revision = 2 }, Stop));
        Assert.Equal("{\"n\":1}", disk.Store.ReadBatch(Id)!.AlertSet);
        Assert.Single(disk.Store.ReadOutbox(10));
    }

    [Fact]
    public async Task ReadingsBetweenViewAndCommit_DoNotOvertakeThePass()
    {
        await using var disk = Open();
        await disk.Store.ReplaceBatchesAsync([Mead()], Stop);
        var revision = disk.Store.ReadBatch(Id)!.Revision;
        await disk.ReadingAsync(1.098, At(0), 1);

        Assert.True(await disk.Store.CommitPassAsync(Pass(revision, "{}", "k1"), Stop));
    }

    [Fact]
    public async Task SameForecastAgain_IsKeptOnce_AndAnotherOneBesideIt()
    {
        await using var disk = Open();
        await disk.Store.ReplaceBatchesAsync([Mead()], Stop);
        ForecastRecord first = new(At(1), "1", "shipped-1", Arrival(1), "[1]");
        ForecastRecord changed = first with { MadeAt = Arrival(1.2), Quantiles = "[2]" };
        foreach (var forecast in new[] { first, first with { MadeAt = Arrival(1.1) }, changed })
        {
            await disk.Store.CommitPassAsync(Pass(1, "{}", "k1") with { Forecast = forecast }, Stop);
        }

        Assert.Equal([first, changed], disk.Store.ReadForecasts(Id));
    }

    [Fact]
    public async Task ServicePass_HasAnAlertSetOfItsOwn()
    {
        await using var disk = Open();

        Assert.True(await disk.Store.CommitPassAsync(Pass(0, "{\"service\":1}", "k1") with { Batch = null, Forecast = null }, Stop));

        Assert.Equal("{\"service\":1}", disk.Store.ReadAlertSet(null));
        Assert.Null(Assert.Single(disk.Store.ReadOutbox(10)).Batch);
    }

    [Fact]
    public async Task PassOverSeveralBatches_IsKeptWholeOrNotAtAll()
    {
        await using var disk = Open();
        var other = Mead() with { Id = new BatchId("other") };
        await disk.Store.ReplaceBatchesAsync([Mead(), other], Stop);
        PassResult[] passes = [Pass(1, "{\"n\":1}", "k1"), Pass(1, "{\"n\":2}", "k2") with { Batch = other.Id }];
        await disk.Store.AppendJournalAsync(other.Id, new JournalDraft(JournalKind.Racked, At(5), string.Empty), null, Stop);

        Assert.False(await disk.Store.CommitPassesAsync(passes, Stop));
        Assert.Null(disk.Store.ReadAlertSet(Id));
        Assert.Empty(disk.Store.ReadOutbox(10));

        Assert.True(await disk.Store.CommitPassesAsync([passes[0], passes[1] with { Revision = 2 }], Stop));
        Assert.Equal("{\"n\":1}", disk.Store.ReadAlertSet(Id));
        Assert.Equal("{\"n\":2}", disk.Store.ReadAlertSet(other.Id));
        Assert.Equal(2, disk.Store.ReadOutbox(10).Count);
    }

    [Fact]
    public async Task Property_KeepsItsFirstValueOverARestart()
    {
        await using var disk = Open();
        Assert.Equal("first", await disk.Store.KeepPropertyAsync("client-id", "first", Stop));
        await disk.RestartAsync();

        Assert.Equal("first", await disk.Store.KeepPropertyAsync("client-id", "second", Stop));
    }

    private static Batch Mead() => new(
        Id,
        "Heather mead",
        FermentKind.Mead,
        "demijohn 3",
        Volume.FromLiters(5),
        At(0),
        SpecificGravity.FromRatio(1.1),
        new TemperatureBand(Temperature.FromCelsius(15), Temperature.FromCelsius(24)),
        AlcoholByVolume.FromPercent(14),
        ValueList.Of(new SensorAttachment(GravitySeries.Sensor, At(0), null, Placement.InLiquid)));

    private static PassResult Pass(long revision, string alerts, string key) => new(
        Id,
        revision,
        Arrival(1),
        alerts,
        [new OutboxEntry(key, "relay", "body", Arrival(1))],
        new ForecastRecord(At(1), "1", "shipped-1", Arrival(1), "[1]"));
}
