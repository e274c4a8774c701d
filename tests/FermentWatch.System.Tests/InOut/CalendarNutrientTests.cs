using System.Text.Json;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Alerting.Rules;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Service.Calendar;
using FermentWatch.Service.Dashboard.Words;
using FermentWatch.Service.Texts;
using Xunit;

namespace FermentWatch.System.Tests.InOut;

/// <summary>The part of nutrient whose date gravity tells, in the calendar: with its range, under one id, and moved only when that is news.</summary>
public sealed class CalendarNutrientTests
{
    private static readonly DateTimeOffset Start = new(2026, 10, 6, 6, 0, 0, TimeSpan.Zero);
    private static readonly SensorAttachment Float = new(new SensorId("float"), EventTime.From(Start), Until: null, Placement.InLiquid);

    /// <summary>A mead from 1.100 that falls evenly by 8 points a day; parts at 1.100, 1.0833 and 1.0667, of which the first was given at once.</summary>
    [Fact]
    public void MarkOfGravity_IsOneEventThatSeldomMovesAndCountsItsMoves()
    {
        var shown = new Dictionary<string, ShownDate>();
        var seen = new List<(string Uid, int Sequence, EventTime At)>();
        for (var hours = 30; hours <= 84; hours += 2)
        {
            var now = EventTime.From(Start.AddHours(hours));
            var (acts, next) = CalendarDates.Follow([View(now, given: 1)], _ => AlertSettings.Default, shown, now);
            // As it comes back from the disk.
            shown = JsonSerializer.Deserialize<Dictionary<string, ShownDate>>(JsonSerializer.Serialize(next))!;
            Assert.Equal(next, shown);
            seen.AddRange(acts.Where(one => one.Act.Rule == NutrientDueRule.Id).Select(one => (one.Uid, one.Sequence, one.Act.DueAt)));
        }

        Assert.InRange(seen.Count, 20, 28);
        Assert.Single(seen.Select(one => one.Uid).Distinct());
        // A move raises the number by one, and nothing else does.
        Assert.All(seen.Zip(seen.Skip(1)), pair => Assert.Equal(pair.First.At == pair.Second.At ? 0 : 1, pair.Second.Sequence - pair.First.Sequence));
        Assert.InRange(seen[^1].Sequence, 0, 4);
        // Evenly 8 points a day: 1.0833 comes 50 hours after the start.
        var shortlyBefore = seen.Last(one => one.At > EventTime.From(Start.AddHours(38)));
        Assert.InRange((shortlyBefore.At.ToDateTimeOffset() - Start).TotalHours, 42, 62);
    }

    [Theory]
    [InlineData("en", "Part 2 of 3", "9 in 10 between")]
    [InlineData("de", "Gabe 2 von 3", "9 von 10 zwischen")]
    [InlineData("fr", "Ajout 2 sur 3", "9 sur 10 entre")]
    public void Event_TellsItsRangeInEachLanguage(string code, string part, string odds)
    {
        using var spoken = Language.Find(code)!.Speak();
        var now = EventTime.From(Start.AddHours(38));
        var view = View(now, given: 1);
        var mark = NutrientDueRule.ByGravity(view)!;
        Assert.True(mark.When.Early <= mark.When.Middle && mark.When.Middle <= mark.When.Late, "the range does not hold the middle");
        var acts = CalendarDates.Follow([view], _ => AlertSettings.Default, new Dictionary<string, ShownDate>(), now).Acts;
        var written = Assert.Single(CalendarTests.Parse(CalendarWriter.Write(acts, new Reader(TimeZoneInfo.Utc, language: Language.Find(code)), null, Start.AddHours(38))));

        Assert.Contains(part, written["DESCRIPTION"], StringComparison.Ordinal);
        Assert.Contains(odds, written["DESCRIPTION"], StringComparison.Ordinal);
        Assert.Equal("0", written["SEQUENCE"]);
        Assert.Equal(CalendarText.Utc(mark.When.Middle.ToDateTimeOffset()), written["DTSTART"]);
    }

    [Fact]
    public void WaysThatMayStopBefore_LeaveTheEndOpen()
    {
        var now = EventTime.From(Start.AddHours(38));
        var view = View(now, given: 1);
        var futures = view.Forecast!.Futures;
        // A third of them stay where they are.
        var stay = ValueList.Of(futures.Select((future, i) => i % 3 > 0 ? future : future with { Points = ValueList.Of(future.Points.Where(point => point.Gravity.Points > 84)) }));
        var mark = NutrientDueRule.ByGravity(view with { Forecast = view.Forecast with { Futures = stay } })!;

        Assert.Null(mark.When.Late);
        Assert.Equal("nutrient-mark-open", NutrientDueRule.DutyOf(mark).Because.Code);
        Assert.Null(NutrientDueRule.ByGravity(view with { Forecast = view.Forecast with { Futures = ValueList.Of(futures.Select(future => future with { Points = ValueList.Of<CurvePoint>() })) } }));
    }

    /// <summary>Given, it is no more; the next one has an id of its own.</summary>
    [Fact]
    public void NextPart_IsAnotherEvent()
    {
        var now = EventTime.From(Start.AddHours(52));
        string UidWith(int given) => Assert.Single(
            CalendarDates.Follow([View(now, given)], _ => AlertSettings.Default, new Dictionary<string, ShownDate>(), now).Acts, one => one.Act.Rule == NutrientDueRule.Id).Uid;

        Assert.NotEqual(UidWith(1), UidWith(2));
        Assert.DoesNotContain(CalendarDates.Follow([View(now, given: 3)], _ => AlertSettings.Default, new Dictionary<string, ShownDate>(), now).Acts, one => one.Act.Rule == NutrientDueRule.Id);
    }

    [Theory]
    [InlineData(2.5, false)] // Hours that the middle moves, 20 h ahead: less than three hours
    [InlineData(4, false)] // more, but within the range and less than a quarter of the wait
    [InlineData(6, true)]
    [InlineData(-6, true)]
    [InlineData(9, true)]
    public void Date_IsMovedOnlyWhenThatIsNews(double hours, bool isMoved)
    {
        var now = EventTime.From(Start);
        EventTime At(double after) => EventTime.From(Start.AddHours(after));
        var shown = new NutrientRange(At(20), At(12), At(28), IsReached: false);
        var fresh = new NutrientRange(At(20 + hours), At(13 + hours), At(27 + hours), IsReached: false);

        Assert.Equal(isMoved ? fresh : shown, fresh.Steady(shown, now));
        Assert.Equal(fresh, fresh.Steady(null, now));
    }

    [Fact]
    public void MarkThatIsReached_StaysAtTheDateThatItHad()
    {
        EventTime At(double after) => EventTime.From(Start.AddHours(after));
        var shown = new NutrientRange(At(20), At(12), At(28), IsReached: false);
        var reached = new NutrientRange(At(22), At(22), At(22), IsReached: true);
        var after = reached.Steady(shown, At(22));
        Assert.Equal(shown with { IsReached = true }, after);
        Assert.Equal(after, (reached with { Middle = At(25) }).Steady(after, At(25)));
        // Earlier than expected: it is due now.
        Assert.Equal(At(15), (reached with { Middle = At(15) }).Steady(shown, At(15)).Middle);
    }

    private static BatchView View(EventTime now, int given)
    {
        var batch = new Batch(
            new BatchId("quince"), "Quince mead", FermentKind.Mead, Vessel: null, Volume: null, EventTime.From(Start), SpecificGravity.FromRatio(1.100), TemperatureBand: null, Tolerance: null, ValueList.Of(Float));
        var readings = Enumerable.Range(0, 24 * 7)
            .Select(i => (At: EventTime.From(Start.AddMinutes(30 * i)), Value: 1.100 - (0.008 * i / 48) + (0.0001 * ((i * 7 % 9) - 4))))
            .Where(one => one.At <= now)
            .Select((one, i) => new Reading(one.At, i, null, new ReceivedAt(one.At.UnixMicroseconds), one.Value, one.Value, ClockTrusted: true))
            .ToList();
        JournalEntry Entry(long id, JournalKind kind, params JournalValue[] values) => new(id, kind, EventTime.From(Start.AddMinutes(id)), "", Gravity: null, Supersedes: null, Undone: false) { Values = ValueList.Of<JournalValue>(values) };
        List<JournalEntry> journal =
        [
            Entry(1, JournalKind.NutrientPlan, new("grams", 12, null), new("parts", 3, null), new("hours-between", 24, null)),
            .. Enumerable.Range(2, given).Select(id => Entry(id, JournalKind.NutrientAdded, new JournalValue("grams", 4, null))),
        ];
        return BatchAnalysis.View(
            new BatchFacts(batch, journal, [new SeriesReadings(new SeriesKey(Float.Sensor, QuantityKind.Gravity), readings)]), ViewSettings.Default, PriorSnapshot.Shipped, now);
    }
}
