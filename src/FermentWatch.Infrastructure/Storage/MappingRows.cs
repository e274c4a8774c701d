using System.Text.Json;
using FermentWatch.Monitoring.Telemetry;
using Microsoft.Data.Sqlite;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>A mapping made on the page.</summary>
/// <param name="Id">Its number.</param>
/// <param name="Mapping">What messages it reads, and how.</param>
/// <param name="CreatedAt">When it was made.</param>
/// <param name="RetiredAt">When it was retired; null while it reads.</param>
public sealed record StoredMapping(long Id, TopicMapping Mapping, ReceivedAt CreatedAt, ReceivedAt? RetiredAt);

/// <summary>Mappings between table and type.</summary>
internal static class MappingRows
{
    public const string Columns = "id, sensor, filter, fields, time_pointer, time_format, created_at, retired_at";

    public static StoredMapping Read(SqliteDataReader row) => new(
        row.GetInt64(0),
        new TopicMapping(
            row.GetString(1),
            TopicFilter.Parse(row.GetString(2)),
            ValueList.Of((JsonSerializer.Deserialize<Field[]>(row.GetString(3)) ?? []).Select(field => new FieldMapping(
                field.Pointer is { } pointer ? JsonPointer.Parse(pointer) : null,
                UnitConversion.QuantityOf((MeasurementUnit)field.Unit),
                (MeasurementUnit)field.Unit))),
            row.TextOrNull(4) is { } time ? new TimeMapping(JsonPointer.Parse(time), (TimeFormat)row.GetInt32(5)) : null),
        new ReceivedAt(row.GetInt64(6)),
        row.NumberOrNull(7) is { } retired ? new ReceivedAt(retired) : null);

    public static string Fields(TopicMapping mapping) =>
        JsonSerializer.Serialize(mapping.Fields.Select(field => new Field(field.Source?.Text, (int)field.Unit)));

    private sealed record Field(string? Pointer, int Unit);
}
