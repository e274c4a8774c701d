using System.IO.Compression;
using System.Net;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.System.Tests.Access;
using FermentWatch.System.Tests.Dashboard;
using FermentWatch.System.Tests.EndToEnd;
using FermentWatch.System.Tests.Storage;
using Microsoft.Playwright;
using SkiaSharp;
using Xunit;

namespace FermentWatch.System.Tests.Journal;

/// <summary>A photo from the phone into the journal, and who may see it.</summary>
public sealed class PhotoFlowTests(Browser browser) : IClassFixture<Browser>
{
    private static readonly BatchId Plum = new("plum-wine");

    [Fact]
    public async Task PhotoOfThePhone_StandsInTheJournalAndGoesOutWithIt()
    {
        await using var service = await RunningService.StartAsync(_ => { });
        var (page, _) = await browser.OpenAsync(390, 844, ColorScheme.Dark);
        await JournalPage.StartAsync(page, service, "Plum wine", daysAgo: 2);
        await JournalPage.OpenAsync(page, "Note or photo");

        // No words and no photo say nothing; what is no picture is named.
        await page.GetByRole(AriaRole.Button, new() { Name = "Write it down" }).ClickAsync();
        await Assertions.Expect(page.Locator(".field .fault")).ToContainTextAsync("Your own words are empty");
        await ChooseAsync(page, "list.jpg", "not a picture"u8.ToArray());
        await page.GetByRole(AriaRole.Button, new() { Name = "Write it down" }).ClickAsync();
        await Assertions.Expect(page.Locator("#photo-fault")).ToHaveTextAsync("The file ‘list.jpg’ is no JPEG, PNG or WebP picture: choose one of these.");
        await JournalPage.CheckAsync(page);
        await ChooseAsync(page, "large.jpg", new byte[20_500_000]);
        await page.GetByRole(AriaRole.Button, new() { Name = "Write it down" }).ClickAsync();
        await Assertions.Expect(page.Locator("#photo-fault")).ToHaveTextAsync("The photo ‘large.jpg’ has 21 MB: choose one of at most 20 MB.");
        Assert.Empty(service.Store.ReadJournal(Plum));

        await ChooseAsync(page, "foam.jpg", PhotoSamples.WithPlace(1200, 900, 6));
        await page.GetByLabel("In your own words").FillAsync("foam up to the neck");
        await JournalPage.PictureAsync(page, "photo-form-dark");
        await JournalPage.WriteAsync(page, "foam up to the neck");
        var shown = page.GetByRole(AriaRole.Img, new() { Name = "Photo: foam up to the neck" });
        await shown.ScrollIntoViewIfNeededAsync();
        Assert.Equal(240, await shown.EvaluateAsync<int>("async image => { await image.decode(); return image.naturalWidth; }"));
        await JournalPage.CheckAsync(page);
        await JournalPage.PictureAsync(page, "photo-journal-dark");

        // A correction keeps the photo, and may bring another.
        await page.Locator(".tapped").GetByRole(AriaRole.Link, new() { Name = "Change" }).ClickAsync();
        await page.GetByLabel("In your own words").FillAsync("foam on the shelf");
        await JournalPage.CheckAsync(page);
        await page.GetByRole(AriaRole.Button, new() { Name = "Write the correction" }).ClickAsync();
        await Assertions.Expect(page.GetByRole(AriaRole.Img, new() { Name = "Photo: foam on the shelf" })).ToBeVisibleAsync();
        var journal = service.Store.ReadJournal(Plum);
        Assert.Equal(2, journal.Count);
        Assert.Equal(journal[0].Photo, journal[1].Photo);
        Assert.NotNull(journal[0].Photo);

        foreach (var path in (string[])["export.zip", "batch/plum-wine/replay.zip"])
        {
            using var client = new HttpClient { BaseAddress = service.Page };
            using var zip = new ZipArchive(new MemoryStream(await client.GetByteArrayAsync(path, TestContext.Current.CancellationToken)));
            using var bitmap = SKBitmap.Decode(await ReadAsync(zip.GetEntry($"photos/{journal[0].Photo}.jpg")!));
            Assert.Equal((900, 1200), (bitmap.Width, bitmap.Height));
        }
    }

    [Fact]
    public async Task PhotoOfABatch_IsSeenByThoseWhoMaySeeTheBatch()
    {
        await using var service = await RunningService.StartAsync(_ => { });
        await service.Store.PutPageBatchAsync(Batch("plum-wine"), TestContext.Current.CancellationToken);
        await service.Store.PutPageBatchAsync(Batch("sloe-wine"), TestContext.Current.CancellationToken);
        var draft = new JournalDraft(JournalKind.Note, StoreOnDisk.At(5), "") { Photo = new Photo(2, 1, [1, 2, 3], [4]) };
        await service.Store.AppendJournalAsync(Plum, draft, "once", TestContext.Current.CancellationToken);
        await service.Store.AppendJournalAsync(Plum, draft, "once", TestContext.Current.CancellationToken);
        var number = Assert.Single(service.Store.ReadPhotoNumbers(Plum));
        using var maker = await Visitor.FirstMakerAsync(service);
        using var viewer = await maker.InviteAsync(service, "Vera", "viewer");
        using var stranger = new Visitor(service.Page);
        foreach (var (path, bytes) in ((string, byte[])[])[($"batch/plum-wine/photo/{number}", [1, 2, 3]), ($"batch/plum-wine/photo/{number}/small", [4])])
        {
            using var seen = await viewer.GetAsync(path);
            Assert.Equal("image/jpeg", seen.Content.Headers.ContentType!.MediaType);
            Assert.Equal(bytes, await seen.Content.ReadAsByteArrayAsync(TestContext.Current.CancellationToken));
            Assert.True(seen.Headers.CacheControl is { Private: true, NoCache: true });
            using var refused = await stranger.GetAsync(path);
            Assert.Equal(HttpStatusCode.Redirect, refused.StatusCode);
            Assert.Contains("sign-in", refused.Headers.Location!.ToString(), StringComparison.Ordinal);
        }

        using var elsewhere = await viewer.GetAsync($"batch/sloe-wine/photo/{number}");
        Assert.Equal(HttpStatusCode.NotFound, elsewhere.StatusCode);
    }

    private static Batch Batch(string id) => new(
        new BatchId(id), id, FermentKind.Wine, null, null, StoreOnDisk.At(0), null, null, null, ValueList.Of<SensorAttachment>());

    private static Task ChooseAsync(IPage page, string name, byte[] content) =>
        page.GetByLabel("Photo", new() { Exact = true }).SetInputFilesAsync(new FilePayload { Name = name, MimeType = "image/jpeg", Buffer = content });

    private static async Task<byte[]> ReadAsync(ZipArchiveEntry entry)
    {
        using var bytes = new MemoryStream();
        await using var content = entry.Open();
        await content.CopyToAsync(bytes, TestContext.Current.CancellationToken);
        return bytes.ToArray();
    }
}
