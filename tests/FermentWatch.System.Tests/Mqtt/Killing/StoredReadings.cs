using System.Globalization;
using Microsoft.Data.Sqlite;

namespace FermentWatch.System.Tests.Mqtt.Killing;

/// <summary>Looks into the database from outside, read-only.</summary>
internal sealed class StoredReadings(string dataDirectory)
{
    private string Source => new SqliteConnectionStringBuilder
    {
        DataSource = Directory.GetFiles(dataDirectory, "*.db").Single(),
        Mode = SqliteOpenMode.ReadOnly,
        Pooling = false,
    }.ToString();

    public long Count() => (long)Scalar("SELECT count(*) FROM reading")!;

    public string Integrity() => (string)Scalar("PRAGMA integrity_check")!;

    /// <summary>How many readings stand under each value, sensor by sensor; values with six digits as the devices send them.</summary>
    public Dictionary<string, Dictionary<string, int>> BySensor()
    {
        var sensors = new Dictionary<string, Dictionary<string, int>>(StringComparer.Ordinal);
        using var connection = new SqliteConnection(Source);
        connection.Open();
        using var command = connection.CreateCommand();
        command.CommandText = "SELECT series.sensor, reading.value FROM reading JOIN series ON series.id = reading.series";
        using var rows = command.ExecuteReader();
        while (rows.Read())
        {
            var values = sensors.TryGetValue(rows.GetString(0), out var known) ? known : sensors[rows.GetString(0)] = new(StringComparer.Ordinal);
            var value = rows.GetDouble(1).ToString("F6", CultureInfo.InvariantCulture);
            values[value] = values.GetValueOrDefault(value) + 1;
        }

        return sensors;
    }

    private object? Scalar(string query)
    {
        using var connection = new SqliteConnection(Source);
        connection.Open();
        using var command = connection.CreateCommand();
        command.CommandText = query;
        return command.ExecuteScalar();
    }
}
