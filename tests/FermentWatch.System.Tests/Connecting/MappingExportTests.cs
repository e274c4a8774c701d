using System.IO.Compression;
using System.Text.Json.Nodes;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Monitoring.Telemetry.Calibration;
using FermentWatch.Service.Pipeline;
using FermentWatch.System.Tests.EndToEnd;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace FermentWatch.System.Tests.Connecting;

/// <summary>What the reader told about sensors goes along with the full export.</summary>
public sealed class MappingExportTests
{
    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Fact]
    public async Task MappingsOfThePageAndCalibrations_AreInTheFullExport()
    {
        await using var service = await RunningService.StartAsync(file =>
            file["Topics"] = new JsonArray(RunningService.Topic("cellar/one", "one", "/at", ("/sg", "gravity", "SG"))));
        var book = service.Services.GetRequiredService<MappingBook>();
        foreach (var filter in (string[])["barn/float", "barn/gone"])
        {
            await book.AddAsync(filter[5..], TopicFilter.Parse(filter), new FieldMapping(null, QuantityKind.Inclination, MeasurementUnit.Degrees), null, Stop);
        }

        await book.RetireAsync(book.Made[1].Id, Stop);
        await service.Store.ImportAsync(
            [[new(new(new SensorId("float"), QuantityKind.Inclination, MeasurementUnit.Degrees, 40, 40, null), new EventTime(1), new ReceivedAt(1), true)]], _ => { }, Stop);
        CalibrationPoint[] points = [new(25, 1.0), new(40, 1.03), new(55, 1.06), new(70, 1.09)];
        await service.Store.AddCalibrationAsync(new SensorId("float"), SensorCalibration.Always, InclinationCurve.Fit(points, 1).Curve!, Stop);

        using var client = new HttpClient();
        await using var bytes = await client.GetStreamAsync(new Uri(service.Page, "export.zip"), Stop);
        using var zip = new ZipArchive(bytes, ZipArchiveMode.Read);

        var mappings = Json(zip, "mappings.json");
        Assert.Equal(["configuration:cellar/one:/at", "page:barn/float:"], mappings.Select(mapping => $"{mapping!["origin"]}:{mapping["filter"]}:{mapping["time"]?["pointer"]}"));
        Assert.Equal("inclination", (string)mappings[1]!["fields"]![0]!["quantity"]!);
        var calibration = Assert.Single(Json(zip, "calibrations.json"))!;
        Assert.Equal("float", (string)calibration["sensor"]!);
        Assert.Equal(points, calibration["inclination"]!["points"]!.AsArray().Select(point => new CalibrationPoint((double)point!["degrees"]!, (double)point["gravity"]!)));
    }

    private static JsonArray Json(ZipArchive zip, string name)
    {
        using var stream = zip.GetEntry(name)!.Open();
        return JsonNode.Parse(stream)!.AsArray();
    }
}
