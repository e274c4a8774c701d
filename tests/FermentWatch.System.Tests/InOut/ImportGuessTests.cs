using FermentWatch.Service.InOut;
using Xunit;

namespace FermentWatch.System.Tests.InOut;

/// <summary>Invented files of many shapes, each read as a person would.</summary>
public sealed class ImportGuessTests
{
    private static readonly TimeZoneInfo Berlin = TimeZoneInfo.FindSystemTimeZoneById("Europe/Berlin");
    private static readonly DateTimeOffset Now = new(2026, 12, 1, 0, 0, 0, TimeSpan.Zero);

    [Theory]
    [InlineData("time,gravity,temp\n2026-11-01T08:00:00Z,1.098,20.1\n2026-11-01T09:00:00Z,1.097,20.2", "2026-11-01T08:00:00Z", 1.098, 20.1)]
    [InlineData("# remark\nsensor_id,time,gravity,temperature_c\nd1,2026-11-01T09:00:00+01:00,1.098,20.1", "2026-11-01T08:00:00Z", 1.098, 20.1)]
    [InlineData("2026-11-01 09:00;1,0980;20,1\n2026-11-01 10:00;1,0971;20,2", "2026-11-01T08:00:00Z", 1.098, null)]
    [InlineData("Datum;Uhr;SG;Temp °C\n1.11.2026;09:00;1,098;20,1\n1.11.2026;10:00;1,097;20,1", "2026-11-01T08:00:00Z", 1.098, 20.1)]
    [InlineData("When\tDensity\tTemperature (°F)\n11/13/2026 9:00 AM\t1098\t68.18", "2026-11-13T08:00:00Z", 1.1, 20.1)]
    [InlineData("timestamp,plato,celsius\n1793520000,23.3,20.1\n1793523600,23.2,20.1", "2026-11-01T08:00:00Z", 1.0978, 20.1)]
    [InlineData("timestamp,brix,celsius\n1793520000000,23.3,20.1", "2026-11-01T08:00:00Z", 1.0978, 20.1)]
    [InlineData("at,gravity points,temp_f\n2026/11/01 09:00:00,98,68.18", "2026-11-01T08:00:00Z", 1.098, 20.1)]
    public void FileOfAShape_IsReadAsMeant(string text, string at, double gravity, double? celsius)
    {
        var choices = ImportGuess.Of(() => new StringReader(text), Berlin, "float");
        var row = new ImportRowReader(choices, Now).Read(new StringReader(text)).First();
        Assert.Empty(row.Refusals);
        Assert.Equal(at, row.Readings[0].At.ToString());
        Assert.Equal(gravity, row.Readings[0].Field.Value, 4);
        Assert.Equal(celsius, row.Readings.Count > 1 ? Math.Round(row.Readings[1].Field.Value, 4) : null);
    }

    [Fact]
    public void HourThatTheClockGoesThroughTwice_KeepsItsOrder()
    {
        // Central European Time begins on 2026-10-25 at 3:00 summer time.
        const string Text = "time,gravity\n2026-10-25 01:30,1.09\n2026-10-25 02:30,1.09\n2026-10-25 02:30,1.08\n2026-10-25 02:45,1.08\n2026-10-25 03:30,1.08\n2026-03-29 02:30,1.1";
        var choices = ImportGuess.Of(() => new StringReader(Text), Berlin, "float");
        var rows = new ImportRowReader(choices, Now).Read(new StringReader(Text)).ToList();
        Assert.Equal(["2026-10-24T23:30:00Z", "2026-10-25T00:30:00Z"], rows.Take(2).Select(row => row.Readings[0].At.ToString()));
        Assert.Equal("2026-10-25T02:30:00Z", rows[4].Readings[0].At.ToString());
        Assert.Equal("refused-skipped-hour", Assert.Single(rows[5].Refusals).Key);
    }

    [Theory]
    [InlineData("2026-11-01T08:00:00Z,abc", "refused-number")]
    [InlineData("2026-11-01T08:00:00Z,\"1,098\"", "refused-number")]
    [InlineData("2026-11-01T08:00:00Z,", "refused-empty")]
    [InlineData(",1.09", "refused-no-time")]
    [InlineData("2027-11-01T08:00:00Z,1.09", "refused-future")]
    [InlineData("1999-11-01T08:00:00Z,1.09", "refused-year")]
    [InlineData("2026-02-30T08:00:00Z,1.09", "refused-time")]
    [InlineData("2026-11-01T08:00:00Z,109", "refused-range")]
    [InlineData("2026-11-01T08:00:00Z,\"1.09", "refused-quote")]
    public void RowThatCannotBeRead_IsRefusedWithItsReasonAndLine(string row, string key)
    {
        const string Head = "time,gravity\n2026-11-01T07:00:00Z,1.098\n2026-11-01T07:10:00Z,1.098\n2026-11-01T07:20:00Z,1.098\n";
        var choices = ImportGuess.Of(() => new StringReader(Head), Berlin, "float");
        var last = new ImportRowReader(choices, Now).Read(new StringReader(Head + row)).Last();
        Assert.Equal(key, Assert.Single(last.Refusals).Key);
        Assert.Equal(5, last.Record.Line);
        Assert.True(Service.Dashboard.InOut.InOutText.Knows(key));
    }
}
