using System.Globalization;
using System.Net;
using System.Text;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Alerting.Rules;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Calendar;
using FermentWatch.Service.Dashboard.Words;
using FermentWatch.System.Tests.Access;
using FermentWatch.System.Tests.EndToEnd;
using FermentWatch.System.Tests.Mqtt;
using Xunit;

namespace FermentWatch.System.Tests.InOut;

/// <summary>The calendar against RFC 5545: its folding example, its escapes, its grammar; and its secret address.</summary>
public sealed partial class CalendarTests
{
    private const string Page = "account/notices";
    private static readonly DateTimeOffset Now = new(2026, 10, 6, 6, 0, 0, TimeSpan.Zero);

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    // RFC 5545, section 3.1: "This is a long description that exists on a long line", in both forms that the standard prints.
    [Fact]
    public void FoldingExampleOfTheStandard_IsTheSameLineUnfolded()
    {
        const string Long = "DESCRIPTION:This is a long description that exists on a long line.";
        const string Example = "DESCRIPTION:This is a lo\r\n ng description\r\n  that exists on a long line.\r\n";
        Assert.Equal(Long + "\r\n", Unfolded(Example));
        Assert.Equal(Long + "\r\n", CalendarText.Folded(Long));
        Assert.Equal(Long + Long + Long + "\r\n", Unfolded(CalendarText.Folded(Long + Long + Long)));
    }

    [Theory]
    [InlineData(74)]
    [InlineData(75)]
    [InlineData(76)]
    [InlineData(150)]
    [InlineData(1000)]
    public void Lines_AreOfAtMost75OctetsAndNoCharacterIsCut(int length)
    {
        foreach (var letter in new[] { "a", "é", "°", "…", "𝛂" })
        {
            var line = "SUMMARY:" + string.Concat(Enumerable.Repeat(letter, length));
            var folded = CalendarText.Folded(line);
            Assert.All(folded.Split("\r\n"), part => Assert.InRange(Encoding.UTF8.GetByteCount(part), 0, 75));
            Assert.DoesNotContain('\ufffd', Encoding.UTF8.GetString(Encoding.UTF8.GetBytes(folded)));
            Assert.Equal(line + "\r\n", Unfolded(folded));
        }
    }

    // RFC 5545, section 3.3.11.
    [Theory]
    [InlineData("Project XYZ Final Review\nConference Room - 3B\nCome Prepared.", @"Project XYZ Final Review\nConference Room - 3B\nCome Prepared.")]
    [InlineData("a\\b;c,d:e\"f", @"a\\b\;c\,d:e""f")]
    [InlineData("x\r\nEND:VCALENDAR\u0007", @"x\nEND:VCALENDAR")]
    public void Text_IsEscapedAsTheStandardSays(string text, string escaped) => Assert.Equal(escaped, CalendarText.Escaped(text));

    [Fact]
    public void EveryDatedAct_IsAnEventInTheGrammarOfTheStandard()
    {
        foreach (var name in new[] { "Sloe wine", "Quince; mead, \"old\"\\new\r\nBEGIN:VEVENT …" + new string('ü', 60) })
        {
            var view = Aging(name);
            var acts = NextActs.Of(view, AlertSettings.Default);
            Assert.Equal(["care-due/airlock", "care-due/oak", "care-due/racking", "care-due/sulfite", "care-due/top-up", "waiting-over/tannin"], acts.Select(act => $"{act.Rule}/{act.Subject}").Order(StringComparer.Ordinal));
            var (shown, kept) = CalendarDates.Follow([view], _ => AlertSettings.Default, new Dictionary<string, ShownDate>(), EventTime.From(Now));
            Assert.Equal(acts.Select(act => act.DueAt), shown.Select(one => one.Act.DueAt));
            var text = CalendarWriter.Write(shown, new Reader(TimeZoneInfo.Utc), new Uri("https://cellar.example/home/"), Now);
            var events = Parse(text);
            Assert.Equal(acts.Count, events.Count);
            // Planned three days ago for the ninth day.
            Assert.Contains("20261012T060000Z", events.Select(one => one["DTSTART"]));
            Assert.Equal(acts.Count, events.Select(one => one["UID"]).Distinct().Count());
            Assert.Equal(acts.Select(act => act.DueAt.ToDateTimeOffset()), events.Select(one => DateTimeOffset.ParseExact(one["DTSTART"], "yyyyMMdd'T'HHmmss'Z'", CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal)));
            Assert.All(events, one => Assert.Equal("https://cellar.example/home/batch/sloe", one["URL"]));
            Assert.All(events, one => Assert.Contains("Ventilate first", one["DESCRIPTION"], StringComparison.Ordinal));
            // Written a day later: the same events under the same ids, none of them moved.
            var (later, _) = CalendarDates.Follow([view], _ => AlertSettings.Default, kept, EventTime.From(Now.AddDays(1)));
            Assert.Equal(events.Select(one => (one["UID"], one["SEQUENCE"])), Parse(CalendarWriter.Write(later, new Reader(TimeZoneInfo.Utc), null, Now.AddDays(1))).Select(one => (one["UID"], "0")));
        }
    }

    [Fact]
    public void EmptyCellar_HasAnEmptyCalendar() => Assert.Empty(Parse(CalendarWriter.Write([], new Reader(TimeZoneInfo.Utc), null, Now)));

    [Fact]
    public async Task Address_WorksWithoutASignInUntilItIsTakenBack()
    {
        await using var service = await RunningService.StartAsync(file => file["Batches"] = new JsonArray(CellarWithBatch.Batch("sloe", "Sloe wine", "2026-03-01T08:00:00Z")));
        using var maker = await Visitor.FirstMakerAsync(service);
        await Eventually.TrueAsync(() => maker.GetAsync("batch/sloe").GetAwaiter().GetResult().StatusCode == HttpStatusCode.OK, "the batch is not on the board");
        using var written = await maker.SendAsync("account", "batch/sloe/journal/new?kind=tannin-added", ("at", "2026-03-02T10:00"), ("grams", "2"), ("text", ""));
        using var stranger = new Visitor(service.Page);
        var first = await MakeAsync(maker);
        Assert.DoesNotContain(first, await maker.Client.GetStringAsync(Page, Stop), StringComparison.Ordinal);

        using var answer = await stranger.GetAsync(first);
        Assert.Equal((HttpStatusCode.OK, "text/calendar", "utf-8"), (answer.StatusCode, answer.Content.Headers.ContentType!.MediaType, answer.Content.Headers.ContentType.CharSet));
        Parse(await answer.Content.ReadAsStringAsync(Stop));

        var second = await MakeAsync(maker);
        using var old = await stranger.GetAsync(first);
        using var present = await stranger.GetAsync(second);
        Assert.Equal((HttpStatusCode.NotFound, HttpStatusCode.OK), (old.StatusCode, present.StatusCode));
        using var revoked = await maker.SendAsync(Page, Page, ("do", "calendar-revoke"));
        using var gone = await stranger.GetAsync(second);
        using var guessed = await stranger.GetAsync("calendar/aaaa.ics");
        Assert.Equal((HttpStatusCode.NotFound, HttpStatusCode.NotFound), (gone.StatusCode, guessed.StatusCode));
    }

    private static async Task<string> MakeAsync(Visitor visitor)
    {
        using var made = await visitor.SendAsync(Page, Page, ("do", "calendar"));
        var address = Visitor.Made(await made.Content.ReadAsStringAsync(Stop));
        Assert.Matches("/calendar/[a-z2-9]{32}\\.ics$", address);
        return new Uri(address).AbsolutePath[1..];
    }

    private static string Unfolded(string text) => text.Replace("\r\n ", "", StringComparison.Ordinal).Replace("\r\n\t", "", StringComparison.Ordinal);

    /// <summary>Reads a calendar strictly by the grammar of RFC 5545 (sections 3.1, 3.3.5, 3.3.6, 3.3.11, 3.4, 3.6, 3.6.1) for the properties that may stand in it.</summary>
    internal static List<Dictionary<string, string>> Parse(string text)
    {
        Assert.EndsWith("\r\n", text, StringComparison.Ordinal);
        Assert.DoesNotMatch("(?<!\r)\n|\r(?!\n)", text);
        Assert.All(text.Split("\r\n"), line => Assert.InRange(Encoding.UTF8.GetByteCount(line), 0, 75));
        var lines = Unfolded(text).Split("\r\n")[..^1].Select(line => ContentLine().Match(line) is { Success: true } match ? (Name: match.Groups["name"].Value, Value: match.Groups["value"].Value) : throw new FormatException(line)).ToList();
        Assert.Equal([("BEGIN", "VCALENDAR"), ("END", "VCALENDAR")], [lines[0], lines[^1]]);
        var (head, events) = (new Dictionary<string, string>(), new List<Dictionary<string, string>>());
        Dictionary<string, string>? open = null;
        foreach (var (name, value) in lines[1..^1])
        {
            if (name is "BEGIN")
            {
                Assert.Equal(("VEVENT", null), (value, open));
                events.Add(open = []);
            }
            else if (name is "END")
            {
                Assert.Equal("VEVENT", value);
                Assert.NotNull(open);
                open = null;
            }
            else
            {
                // Each of these may stand once.
                Assert.True((open ?? head).TryAdd(name, value), $"{name} stands twice");
                Assert.Matches(
                    name switch
                    {
                        "DTSTAMP" or "DTSTART" => "^[0-9]{8}T[0-9]{6}Z$",
                        "DURATION" or "REFRESH-INTERVAL" => "^P(T[0-9]+[HMS]|[0-9]+D)$",
                        "SUMMARY" or "DESCRIPTION" or "NAME" or "UID" or "PRODID" => @"^(?:[^\\;,\x00-\x08\x0a-\x1f\x7f]|\\[\\;,nN])*$",
                        "SEQUENCE" => "^(0|[1-9][0-9]*)$",
                        "VERSION" => "^2\\.0$",
                        "CALSCALE" => "^GREGORIAN$",
                        "TRANSP" => "^(OPAQUE|TRANSPARENT)$",
                        "URL" => "^https://[^ ]+$",
                        _ => throw new FormatException(name),
                    },
                    value);
            }
        }

        Assert.Null(open);
        Assert.Subset(head.Keys.ToHashSet(), new HashSet<string> { "VERSION", "PRODID" });
        Assert.All(events, one => Assert.Subset(one.Keys.ToHashSet(), new HashSet<string> { "UID", "DTSTAMP", "DTSTART", "SEQUENCE" }));
        return events;
    }

    // 12 g in three parts a day apart: the first was due at once and given, the second falls a day after the plan.
    [Fact]
    public void PartOfNutrientByTheClock_StandsAmongTheActs()
    {
        var at = EventTime.From(Now.AddHours(-6));
        var plain = Aging("Sloe wine");
        JournalEntry Entry(long id, JournalKind kind, params JournalValue[] values) => new(id, kind, at, "", Gravity: null, Supersedes: null, Undone: false) { Values = ValueList.Of<JournalValue>(values) };
        var view = plain with
        {
            Now = EventTime.From(Now),
            OriginalGravity = null,
            Stop = FermentWatch.Monitoring.Forecasting.StopAssessment.Unknown,
            Stage = new StageSpan(BatchStage.Fermenting, at, Because: null),
            Gravity = ValueList.Of<GravityPoint>(),
            Journal = ValueList.Of(
                Entry(1, JournalKind.NutrientPlan, new("grams", 12, null), new("parts", 3, null), new("hours-between", 24, null)),
                Entry(2, JournalKind.NutrientAdded, new JournalValue("grams", 4, null))),
        };
        var act = Assert.Single(NextActs.WithNutrient(view, AlertSettings.Default, NutrientDueRule.ByGravity(view)));
        Assert.Equal(("nutrient-due", "part-2"), (act.Rule, act.Subject));
        Assert.Empty(NextActs.Of(view, AlertSettings.Default));
        var written = Assert.Single(Parse(CalendarWriter.Write(CalendarDates.Follow([view], _ => AlertSettings.Default, new Dictionary<string, ShownDate>(), EventTime.From(Now)).Acts, new Reader(TimeZoneInfo.Utc), null, Now)));
        Assert.Equal(CalendarText.Utc(act.DueAt.ToDateTimeOffset()), written["DTSTART"]);
        Assert.Contains("4", written["SUMMARY"], StringComparison.Ordinal);
        Assert.DoesNotContain(NextActs.WithNutrient(view with { Stage = plain.Stage, Journal = ValueList.Of<JournalEntry>() }, AlertSettings.Default, null), one => one.Rule == "nutrient-due");
    }

    private static BatchView Aging(string name)
    {
        var at = EventTime.From(Now.AddDays(-3));
        JournalEntry Entry(long id, JournalKind kind) => new(id, kind, at, "", Gravity: null, Supersedes: null, Undone: false);
        var plain = Dashboard.InventedCellar.LyingStill().View;
        return plain with
        {
            Batch = plain.Batch with { Id = new BatchId("sloe"), Name = name },
            Stage = new StageSpan(BatchStage.Aging, at, Because: null),
            Journal = ValueList.Of(Entry(1, JournalKind.TanninAdded), Entry(2, JournalKind.OakIn), Entry(3, JournalKind.RackingPlanned) with { Values = ValueList.Of(new JournalValue("planned-in", 9, null)) }),
        };
    }

    [GeneratedRegex("^(?<name>[A-Z0-9-]+)(?:;[A-Z-]+=[^\\x00-\\x1f\";:,]+)*:(?<value>[^\\x00-\\x08\\x0a-\\x1f\\x7f]*)$")]
    private static partial Regex ContentLine();
}
