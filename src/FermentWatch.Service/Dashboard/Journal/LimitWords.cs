using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Service.Dashboard.Words;

namespace FermentWatch.Service.Dashboard.Journal;

/// <summary>A batch's own limits in words.</summary>
internal static class LimitWords
{
    /// <summary>'Set for this batch: Too hot from: 30 °C.', or null where the usual limits of the rule hold.</summary>
    public static string? Own(Batch batch, string rule, Reader reader)
    {
        var own = from one in batch.Limits
                  let limit = AlertLimitCatalog.Find(one.Name)
                  where limit is not null && limit.Rule == rule
                  select FieldWords.Label(one.Name) + ": " + Value(limit, one.Value, reader);
        var text = string.Join("; ", own);
        return text.Length == 0 ? null : JournalText.Of("limits-own", text);
    }

    private static string Value(AlertLimit limit, double value, Reader reader) =>
        (reader.FieldText(value, limit.Field.Unit, limit.Field.Digits) + Figures.NoBreak + reader.FieldUnit(limit.Field.Unit)).TrimEnd(Figures.NoBreak);
}
