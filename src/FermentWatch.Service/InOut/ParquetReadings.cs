using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Configuration;
using Parquet;
using Parquet.Schema;

namespace FermentWatch.Service.InOut;

/// <summary>Readings of a batch as Apache Parquet, for programs that work on tables. Times are UTC with microseconds.</summary>
internal static class ParquetReadings
{
    /// <summary>Rows that are held at a time.</summary>
    private const int RowsOfAGroup = 50_000;

    private static readonly DateTimeDataField Time = new("time", DateTimeFormat.DateAndTimeMicros, isAdjustedToUTC: true);
    private static readonly DateTimeDataField ReceivedAt = new("received_at", DateTimeFormat.DateAndTimeMicros, isAdjustedToUTC: true);
    private static readonly DataField<string> Sensor = new("sensor");
    private static readonly DataField<string> Quantity = new("quantity");
    private static readonly DataField<string> Unit = new("unit");
    private static readonly DataField<double> Value = new("value");
    private static readonly DataField<double> Raw = new("raw");
    private static readonly DataField<string> RawUnit = new("raw_unit");
    private static readonly DataField<bool> ClockTrusted = new("clock_trusted");
    private static readonly DataField<bool> Corrected = new("corrected");

    /// <summary>Writes all readings of the batch's sensors, sensor by sensor in order of arrival.</summary>
    public static async Task WriteAsync(Store store, Batch batch, Stream stream, CancellationToken cancellationToken)
    {
        var schema = new ParquetSchema(Time, Sensor, Quantity, Value, Unit, Raw, RawUnit, ReceivedAt, ClockTrusted, Corrected);
        await using var writer = await ParquetWriter.CreateAsync(schema, stream, cancellationToken: cancellationToken);
        var rows = new List<ExportedReading>();
        foreach (var attachment in batch.Sensors)
        {
            store.ExportReadings(attachment.Sensor, attachment.From, attachment.Until ?? EventTime.From(DateTimeOffset.MaxValue), one =>
            {
                rows.Add(one);
                if (rows.Count == RowsOfAGroup)
                {
                    // Rows are handed over within one read and nobody can be awaited there: the target is a file, which takes them at once.
                    WriteGroupAsync(writer, rows).GetAwaiter().GetResult();
                    rows.Clear();
                }
            });
        }

        if (rows.Count > 0)
        {
            await WriteGroupAsync(writer, rows);
        }
    }

    private static async Task WriteGroupAsync(ParquetWriter writer, List<ExportedReading> rows)
    {
        using var group = writer.CreateRowGroup();
        await Numbers(group, Time, rows, one => one.Reading.At.ToDateTimeOffset().UtcDateTime);
        await Texts(group, Sensor, rows, one => one.Series.Sensor.Value);
        await Texts(group, Quantity, rows, one => SettingWords.Of(one.Series.Quantity));
        await Numbers(group, Value, rows, one => one.Reading.Value);
        await Texts(group, Unit, rows, one => SettingWords.Of(one.Series.Quantity == QuantityKind.Battery ? one.Unit : UnitConversion.UnitsOf(one.Series.Quantity)[0]));
        await Numbers(group, Raw, rows, one => one.Reading.Raw);
        await Texts(group, RawUnit, rows, one => SettingWords.Of(one.Unit));
        await Numbers(group, ReceivedAt, rows, one => one.Reading.ReceivedAt.ToDateTimeOffset().UtcDateTime);
        await Numbers(group, ClockTrusted, rows, one => one.Reading.ClockTrusted);
        await Numbers(group, Corrected, rows, one => one.Corrected);
    }

    private static async Task Numbers<T>(ParquetRowGroupWriter group, DataField field, List<ExportedReading> rows, Func<ExportedReading, T> of)
        where T : struct => await group.WriteAsync(field, new ReadOnlyMemory<T>([.. rows.Select(of)]));

    private static async Task Texts(ParquetRowGroupWriter group, DataField field, List<ExportedReading> rows, Func<ExportedReading, string> of) =>
        await group.WriteAsync(field, (IReadOnlyCollection<string>)[.. rows.Select(of)]);
}
