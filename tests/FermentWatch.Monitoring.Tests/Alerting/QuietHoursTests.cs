using System.Globalization;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Telemetry;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Alerting;

public sealed class QuietHoursTests
{
    [Fact]
    public void NightsAroundClockChanges_EndWhereAnIndependentImplementationSays()
    {
        // Source: Python zoneinfo over the IANA database, see ReferenceData/QuietHours/README.md.
        var rows = File.ReadAllLines(Path.Combine(AppContext.BaseDirectory, "ReferenceData", "QuietHours", "end-of-quiet-hours.csv"))
            .Skip(1)
            .Select(line => line.Split(','))
            .ToList();
        var wrong = new List<string>();
        foreach (var row in rows)
        {
            var quiet = new QuietHours(TimeOnly.Parse(row[1], CultureInfo.InvariantCulture), TimeOnly.Parse(row[2], CultureInfo.InvariantCulture));
            var end = quiet.EndOf(Instant(row[3]), TimeZoneInfo.FindSystemTimeZoneById(row[0]));
            var expected = row[4] == "-" ? (ReceivedAt?)null : Instant(row[4]);
            if (end != expected)
            {
                wrong.Add($"{string.Join(',', row)}: got {end?.ToString() ?? "-"}");
            }
        }

        Assert.Equal(216, rows.Count);
        Assert.Empty(wrong);
    }

    [Fact]
    public void EqualEnds_MeanNoQuietHours() =>
        Assert.Null(new QuietHours(new TimeOnly(8, 0), new TimeOnly(8, 0)).EndOf(Instant("2026-03-02T08:00:00Z"), TimeZoneInfo.Utc));

    private static ReceivedAt Instant(string text) =>
        ReceivedAt.From(DateTimeOffset.Parse(text, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal));
}
