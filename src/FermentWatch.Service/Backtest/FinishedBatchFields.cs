using System.Text.Json.Nodes;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Service.Configuration;

namespace FermentWatch.Service.Backtest;

/// <summary>The maker's finished batches as JSON: in the meta.json of a recording, and kept beside a batch from its start on.</summary>
internal static class FinishedBatchFields
{
    /// <summary>Name of the list.</summary>
    public const string Name = "finished_batches";

    /// <summary>Reads the list; empty when there is none.</summary>
    /// <exception cref="BacktestException">Something in it is missing or wrong.</exception>
    public static List<FinishedBatch> Read(JsonFields fields)
    {
        var finished = new List<FinishedBatch>();
        foreach (var one in fields.Objects(Name))
        {
            var word = one.Text("kind");
            finished.Add(new FinishedBatch(
                word is not null && SettingWords.Kinds.TryGetValue(word, out var kind) ? kind : throw one.Wrong("kind", SettingWords.OneOf(SettingWords.Kinds.Keys)),
                Gravity(one, "original_gravity", 1.02, 1.25),
                Gravity(one, "final_gravity", 0.97, 1.15),
                one.Number("tolerance_abv", 1, 30) is { } tolerance ? AlcoholByVolume.FromPercent(tolerance) : null,
                one.Number("odds", 0, 1) ?? 1));
        }

        return finished;
    }

    /// <summary>The list.</summary>
    public static JsonArray Write(IEnumerable<FinishedBatch> batches) => new([.. batches.Select(one => new JsonObject
    {
        ["kind"] = SettingWords.Kinds.First(word => word.Value == one.Kind).Key,
        ["original_gravity"] = Math.Round(one.OriginalGravity.Value, 5),
        ["final_gravity"] = Math.Round(one.FinalGravity.Value, 5),
        ["tolerance_abv"] = one.Tolerance?.Percent,
        ["odds"] = Math.Round(one.Finished, 3),
    })]);

    private static SpecificGravity Gravity(JsonFields one, string name, double lowest, double highest) => SpecificGravity.FromRatio(
        one.Number(name, lowest, highest) ?? throw one.Wrong(name, string.Create(System.Globalization.CultureInfo.InvariantCulture, $"a gravity from {lowest} to {highest}")));
}
