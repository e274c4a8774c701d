using System.Net;
using System.Text;
using System.Text.Json;
using FermentWatch.Oenology.Worksheets;
using FermentWatch.System.Tests.Access;
using FermentWatch.System.Tests.EndToEnd;
using Xunit;

namespace FermentWatch.System.Tests.Worksheets;

/// <summary>The catalogue over real HTTP against the whole service.</summary>
public sealed class WorksheetsEndpointTests
{
    private const string Sheet = "api/v1/worksheets/alcohol-from-gravity";

    [Fact]
    public async Task CatalogAndEntries_AreThoseOfTheLibrary()
    {
        await using var service = await RunningService.StartAsync(_ => { });
        using var visitor = new Visitor(service.Page);
        using var list = await visitor.GetAsync("api/v1/worksheets");
        Assert.Equal((HttpStatusCode.OK, "application/json"), (list.StatusCode, list.Content.Headers.ContentType!.MediaType));
        using var catalog = JsonDocument.Parse(await BodyAsync(list));
        Assert.Equal(WorksheetCatalog.All.Select(sheet => sheet.Name), catalog.RootElement.GetProperty("worksheets").EnumerateArray().Select(sheet => sheet.GetProperty("name").GetString()));
        using var one = JsonDocument.Parse(await BodyAsync(await visitor.GetAsync(Sheet)));
        Assert.Equal("alcohol-from-gravity", one.RootElement.GetProperty("name").GetString());
        Assert.Equal(HttpStatusCode.NotFound, (await visitor.GetAsync("api/v1/worksheets/nothing")).StatusCode);
    }

    // Every example as JSON: the numbers of the library, unrounded.
    [Fact]
    public async Task Examples_GiveTheNumbersOfTheLibrary()
    {
        await using var service = await RunningService.StartAsync(_ => { });
        using var visitor = new Visitor(service.Page);
        foreach (var sheet in WorksheetCatalog.All)
        {
            foreach (var example in sheet.Examples)
            {
                using var answer = await PostAsync(visitor, "api/v1/worksheets/" + sheet.Name, JsonSerializer.Serialize(example.Given));
                Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
                using var json = JsonDocument.Parse(await BodyAsync(answer));
                var expected = sheet.Run(example.Given).Answer!;
                Assert.Equal(expected.IsRefusal, json.RootElement.GetProperty("refused").GetBoolean());
                var values = json.RootElement.GetProperty("results").EnumerateArray().Where(result => result.GetProperty("type").GetString() == "number")
                    .Select(result => result.GetProperty("value").GetDouble());
                Assert.Equal(expected.Results.OfType<NumberResult>().Select(result => result.Value), values);
            }
        }
    }

    [Theory]
    [InlineData("{\"original-gravity\":109,\"present-gravity\":1}", "original-gravity is 109; it must be a number from 1 to 1.2 SG.")]
    [InlineData("{\"original-gravity\":1.09}", "present-gravity is missing")]
    [InlineData("{\"original-gravity\":{\"a\":1},\"present-gravity\":1}", "original-gravity must be a number, a string")]
    [InlineData("{\"original-gravity\":1.09,\"present-gravity\":1,\"x\":1}", "x is not a field of alcohol-from-gravity")]
    [InlineData("{\"original-gravity\":1.09,\"original-gravity\":1.1,\"present-gravity\":1}", "each field once")]
    [InlineData("[1]", "Give the fields as an object")]
    [InlineData("not json", "not JSON")]
    [InlineData("", "not JSON")]
    public async Task WhatCannotBeRead_IsUnprocessableAndSaysWhatWouldBeRight(string body, string sentence)
    {
        await using var service = await RunningService.StartAsync(_ => { });
        using var visitor = new Visitor(service.Page);
        using var answer = await PostAsync(visitor, Sheet, body);
        Assert.Equal((HttpStatusCode.UnprocessableEntity, "application/problem+json"), (answer.StatusCode, answer.Content.Headers.ContentType!.MediaType));
        using var json = JsonDocument.Parse(await BodyAsync(answer));
        Assert.Contains(sentence, string.Join(' ', Texts(json.RootElement)), StringComparison.Ordinal);
    }

    [Fact]
    public async Task TooLarge_IsRefusedWithTheLimit()
    {
        await using var service = await RunningService.StartAsync(_ => { });
        using var visitor = new Visitor(service.Page);
        using var answer = await PostAsync(visitor, Sheet, "{\"x\":\"" + new string('a', 20_000) + "\"}");
        Assert.Equal(HttpStatusCode.RequestEntityTooLarge, answer.StatusCode);
    }

    // A taster may compute; a stranger is told in the language of the interface, not sent to a page.
    [Fact]
    public async Task WithPasswords_AnybodySignedInComputesAndAStrangerDoesNot()
    {
        await using var service = await RunningService.StartAsync(_ => { });
        using var maker = await Visitor.FirstMakerAsync(service);
        using var viewer = await maker.InviteAsync(service, "Vera", "viewer");
        using var stranger = new Visitor(service.Page);
        const string Body = "{\"original-gravity\":1.09,\"present-gravity\":1}";
        Assert.Equal(HttpStatusCode.OK, (await PostAsync(viewer, Sheet, Body)).StatusCode);
        Assert.Equal(HttpStatusCode.Unauthorized, (await PostAsync(stranger, Sheet, Body)).StatusCode);
        using var list = await stranger.GetAsync("api/v1/worksheets");
        Assert.Equal((HttpStatusCode.Unauthorized, "application/problem+json"), (list.StatusCode, list.Content.Headers.ContentType!.MediaType));
    }

    private static async Task<HttpResponseMessage> PostAsync(Visitor visitor, string path, string body)
    {
        using var content = new StringContent(body, Encoding.UTF8, "application/json");
        return await visitor.Client.PostAsync(path, content, TestContext.Current.CancellationToken);
    }

    private static async Task<string> BodyAsync(HttpResponseMessage answer) => await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);

    // The sentences as read, without JSON's escapes.
    private static IEnumerable<string> Texts(JsonElement json) => json.ValueKind switch
    {
        JsonValueKind.String => [json.GetString()!],
        JsonValueKind.Object => json.EnumerateObject().SelectMany(field => Texts(field.Value)),
        JsonValueKind.Array => json.EnumerateArray().SelectMany(Texts),
        _ => [],
    };
}
