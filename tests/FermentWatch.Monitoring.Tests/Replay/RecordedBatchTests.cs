using System.Text.Json;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Replay;

/// <summary>Whole recordings, looked at in the middle and at the end. The recordings are simulated and supplied with the project.</summary>
public sealed class RecordedBatchTests(ITestOutputHelper output)
{
    [Theory]
    [InlineData("s09", 8, 2, true)]
    // Reads 2 to 3 points high from the first days on and another 2.5 after racking: no reading tells.
    [InlineData("s14", 8, 7, false)]
    public void Recording_IsForeseenAndEndsWhereTheTruthIs(string name, double withinAtHalf, double withinAtEnd, bool isCoveredAtEnd)
    {
        var folder = ReplayFolder.Load(Path.Combine(AppContext.BaseDirectory, "ReferenceData", "replays", name));
        using var document = JsonDocument.Parse(File.ReadAllText(Path.Combine(folder.Path, "truth.json")));
        var truth = document.RootElement;
        var halfHours = truth.GetProperty("frac_times_h").GetProperty("50").GetDouble();
        var half = folder.Cuts.First(cut => (cut.At - folder.Batch.InoculatedAt).TotalHours >= halfHours);
        var (errorAtHalf, coveredAtHalf) = Check(folder, half, truth, "half of the sugar");
        Assert.True(Math.Abs(errorAtHalf) <= withinAtHalf, $"{name} at half: {errorAtHalf:F1} points");
        Assert.True(coveredAtHalf, $"{name} at half: outside the 9-in-10 range");
        var (errorAtEnd, covered) = Check(folder, folder.Cuts[^1], truth, "end");
        Assert.True(Math.Abs(errorAtEnd) <= withinAtEnd, $"{name} at the end: {errorAtEnd:F1} points");
        Assert.True(covered || !isCoveredAtEnd, $"{name} at the end: outside the 9-in-10 range");
    }

    private (double Error, bool IsCovered) Check(ReplayFolder folder, ReplayCut cut, JsonElement truth, string moment)
    {
        var view = BatchAnalysis.View(folder.FactsAfter(cut.Rows), ViewSettings.Default, PriorSnapshot.Shipped, cut.At);
        var end = truth.GetProperty("cuts").EnumerateArray().Single(one => one.GetProperty("cut").GetInt32() == cut.Number).GetProperty("fg").GetDouble();
        var forecast = view.Forecast!.FinalGravity;
        var error = (forecast.P50.Value - end) * 1000;
        var isCovered = forecast.P05.Value <= end && end <= forecast.P95.Value;
        output.WriteLine(
            $"{Path.GetFileName(folder.Path)} at {moment}: {view.GravityCounts.Stored} readings, {view.GravityCounts.SetAside} set aside, "
            + $"{view.Events.Count} events, {view.Phase.Phase}; final gravity {forecast.P50.Value:F4} "
            + $"({forecast.P05.Value:F4} to {forecast.P95.Value:F4}), truth {end:F4}, error {error:F1} points, covered {isCovered}");
        return (error, isCovered);
    }
}
