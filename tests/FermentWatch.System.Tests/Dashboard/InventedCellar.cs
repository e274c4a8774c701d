using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Alcohol;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Service.Dashboard;

namespace FermentWatch.System.Tests.Dashboard;

/// <summary>Views of an invented cellar, built by hand: one for each state that a page must show.</summary>
internal static class InventedCellar
{
    public static readonly DateTimeOffset Now = new(2026, 10, 6, 22, 38, 0, TimeSpan.Zero);

    private static readonly EventTime NowEvent = EventTime.From(Now);

    public static BoardSnapshot Full(bool isDemo = true, DateTimeOffset? computedAt = null) => new(
        ValueList.Of(MidFerment(), Lagging(), LyingStill(), Silent(), WithoutReadings()),
        new ServiceStatus(
            Reason.Of("broker-listening", new ReasonValue.Name("0.0.0.0:1884")),
            true,
            Now - TimeSpan.FromMinutes(4),
            new MessageCounts(1284, 1270, 14, 3),
            ValueList.Of(new RejectedMessage("cellar/float-3/state", "{\"dens\": \"1,042\"} <b>", 21, Now - TimeSpan.FromHours(2), Reason.Of("number-has-comma", new ReasonValue.Name("'1,042'"), new ReasonValue.Name("'1.042'"))))),
        isDemo,
        computedAt ?? Now);

    public static BoardSnapshot Of(params BoardEntry[] entries) => Full() with { Entries = ValueList.Of<BoardEntry>(entries) };

    /// <summary>Day 6 of a mead from 1.098, falling, with a gap, foam set aside, a hand reading and twenty futures.</summary>
    public static BoardEntry MidFerment(double present = 1.066, string name = "Quince mead")
    {
        var inoculated = NowEvent - TimeSpan.FromDays(6.2);
        var gap = new Gap(inoculated + TimeSpan.FromDays(3), inoculated + TimeSpan.FromDays(3.6));
        var points = Falling(inoculated, 1.098, present, 6.2, seed: 3).Where(point => point.At <= gap.From || point.At >= gap.Until).ToList();
        var futures = Futures(points[^1]);
        var view = View("quince", name, FermentKind.Mead, inoculated, 1.098, points) with
        {
            Phase = new PhaseAssessment(Phase.Active, Reason.Of("phase-active", new ReasonValue.Gravity(0.0061, true)), 0.0061),
            Forecast = new GravityForecast(
                NowEvent,
                "test",
                null,
                new(SpecificGravity.FromRatio(0.994), SpecificGravity.FromRatio(0.997), SpecificGravity.FromRatio(0.999), SpecificGravity.FromRatio(1.001), SpecificGravity.FromRatio(1.005)),
                new(futures[1].Finish, futures[5].Finish, futures[10].Finish, futures[15].Finish, futures[18].Finish),
                ValueList.Of(points.Select(point => new CurvePoint(point.At, point.Gravity)).Where((_, i) => i % 6 == 0)),
                ValueList.Of<FutureCurve>(futures)),
            SetAside = ValueList.Of(Enumerable.Range(0, 5).Select(i => new SetAsidePoint(
                inoculated + TimeSpan.FromDays(1.2 + (0.25 * i)),
                SpecificGravity.FromRatio(1.081 - (0.002 * i)),
                Reason.Of("set-aside-spike", new ReasonValue.Gravity(0.009, true))))),
            GravityGaps = ValueList.Of(gap),
            Events = ValueList.Of(
                Happened(inoculated, JournalKind.Inoculated, "journal-inoculated"),
                Happened(inoculated + TimeSpan.FromDays(1), JournalKind.NutrientAdded, "journal-nutrient-added"),
                Happened(inoculated + TimeSpan.FromDays(2), JournalKind.NutrientAdded, "journal-nutrient-added"),
                Happened(inoculated + TimeSpan.FromDays(4), JournalKind.Stirred, "journal-stirred"),
                new TimelineEvent(inoculated + TimeSpan.FromDays(5), JournalKind.MeasuredByHand, Reason.Of("journal-measured-by-hand", new ReasonValue.Name("agrees"), new ReasonValue.Gravity(1.0725)))),
            GravityCounts = new ReadingCounts(890, 5),
        };
        return new BoardEntry(view, ValueList.Of<OpenAlert>());
    }

    /// <summary>The first day: not falling, and too early to tell.</summary>
    public static BoardEntry Lagging()
    {
        var inoculated = NowEvent - TimeSpan.FromHours(20);
        var points = Falling(inoculated, 1.084, 1.0835, 20 / 24d, seed: 5);
        var view = View("rhubarb", "Rhubarb and rose", FermentKind.Wine, inoculated, 1.084, points) with
        {
            Phase = new PhaseAssessment(Phase.Lag, Reason.Of("phase-lag-no-fall-yet", new ReasonValue.Length(TimeSpan.FromHours(20))), 0),
            Forecast = new GravityForecast(
                NowEvent,
                "test",
                Reason.Of("not-yet-too-early", new ReasonValue.Gravity(0.0005, true), new ReasonValue.Gravity(0.084, true)),
                new(SpecificGravity.FromRatio(0.990), SpecificGravity.FromRatio(0.994), SpecificGravity.FromRatio(0.999), SpecificGravity.FromRatio(1.010), SpecificGravity.FromRatio(1.030)),
                new(null, null, null, null, null),
                ValueList.Of<CurvePoint>(),
                ValueList.Of<FutureCurve>()),
        };
        return new BoardEntry(view, ValueList.Of<OpenAlert>());
    }

    /// <summary>Day 24, no fall to be seen, and too warm: an open alert.</summary>
    public static BoardEntry LyingStill()
    {
        var inoculated = NowEvent - TimeSpan.FromDays(24);
        var points = Falling(inoculated, 1.092, 0.996, 14, seed: 7).Concat(Falling(inoculated + TimeSpan.FromDays(14.02), 0.996, 0.996, 9.97, seed: 8)).ToList();
        var view = View("damson", "Damson wine", FermentKind.Wine, inoculated, 1.092, points) with
        {
            Phase = new PhaseAssessment(Phase.Flat, Reason.Of("phase-flat-shown", new ReasonValue.Length(TimeSpan.FromDays(4)), new ReasonValue.Gravity(0.0002, true)), 0),
            Episodes = ValueList.Of(new AlertEpisode("temperature-band", "float-damson", Severity.Warning, NowEvent - TimeSpan.FromDays(3), NowEvent - TimeSpan.FromDays(2.9), NowEvent - TimeSpan.FromDays(2.6), TooWarm(21.6, TimeSpan.FromDays(3)))),
        };
        var alert = new OpenAlert("temperature-band", "float-damson", Severity.Warning, Now - TimeSpan.FromHours(3), TooWarm(22.4, TimeSpan.FromHours(4)));
        return new BoardEntry(view, ValueList.Of(alert));
    }

    /// <summary>Heard well until 14 hours ago.</summary>
    public static BoardEntry Silent()
    {
        var inoculated = NowEvent - TimeSpan.FromDays(9);
        var points = Falling(inoculated, 1.090, 1.034, 8.4, seed: 11);
        var heard = ReceivedAt.From(Now - TimeSpan.FromHours(14));
        var whole = View("heather", "Heather, dry", FermentKind.Mead, inoculated, 1.090, points);
        var view = whole with
        {
            Phase = new PhaseAssessment(Phase.Unknown, Reason.Of("phase-unknown-silent", new ReasonValue.Length(TimeSpan.FromHours(14))), null),
            Sensors = ValueList.Of(whole.Sensors.Select(sensor => sensor with { LastReceivedAt = heard })),
            LatestGravity = whole.LatestGravity!.Value with { ReceivedAt = heard },
        };
        var alert = new OpenAlert("sensor-silent", "float-heather", Severity.Warning, Now - TimeSpan.FromHours(2), Reason.Of("sensor-silent", new ReasonValue.Name("float-heather"), new ReasonValue.Length(TimeSpan.FromHours(14)), new ReasonValue.Moment(NowEvent - TimeSpan.FromHours(14))));
        return new BoardEntry(view, ValueList.Of(alert));
    }

    /// <summary>Named in the book, and nothing heard yet.</summary>
    public static BoardEntry WithoutReadings()
    {
        var inoculated = NowEvent - TimeSpan.FromHours(2);
        var view = View("elder", "Elderberry No. 2", FermentKind.Wine, inoculated, null, []) with
        {
            Phase = new PhaseAssessment(Phase.Unknown, Reason.Of("phase-unknown-no-readings"), null),
        };
        return new BoardEntry(view, ValueList.Of<OpenAlert>());
    }

    private static BatchView View(string key, string name, FermentKind kind, EventTime inoculated, double? original, List<GravityPoint> points)
    {
        var sensor = new SensorId("float-" + key);
        var og = original is { } ratio ? SpecificGravity.FromRatio(ratio) : (SpecificGravity?)null;
        var balance = og is { } start && points.Count > 0 ? MassBalance.Of(start, points[^1].Gravity) : (MassBalanceResult?)null;
        var temperatures = Temperatures(points.Count > 0 ? points[0].At : NowEvent, points.Count > 0 ? points[^1].At : NowEvent);
        var received = ReceivedAt.From(Now - TimeSpan.FromMinutes(4));
        return new BatchView
        {
            Batch = new Batch(
                new BatchId(key),
                name,
                kind,
                "Vessel " + (1 + (key.Length % 6)),
                Volume.FromLiters(19),
                inoculated,
                og,
                new TemperatureBand(Temperature.FromCelsius(18), Temperature.FromCelsius(21)),
                AlcoholByVolume.FromPercent(14),
                ValueList.Of(new SensorAttachment(sensor, inoculated, null, Placement.InLiquid))),
            Now = NowEvent,
            Phase = new PhaseAssessment(Phase.Unknown, Reason.Of("phase-unknown-no-readings"), null),
            OriginalGravity = og is { } told ? new Computed<SpecificGravity>(told, 0.001, Validity.WithinSource) : null,
            SugarLeft = balance?.SugarLeft,
            Alcohol = balance?.Alcohol,
            LatestGravity = points.Count > 0 ? new Latest<SpecificGravity>(points[^1].Gravity, points[^1].At, received) : null,
            LatestTemperature = temperatures.Count > 0 ? new Latest<Temperature>(temperatures[^1].Temperature, temperatures[^1].At, received) : null,
            Gravity = ValueList.Of<GravityPoint>(points),
            SetAside = ValueList.Of<SetAsidePoint>(),
            Temperature = ValueList.Of<TemperaturePoint>(temperatures),
            GravityGaps = ValueList.Of<Gap>(),
            Events = ValueList.Of(Happened(inoculated, JournalKind.Inoculated, "journal-inoculated")),
            Sensors = ValueList.Of(new[] { QuantityKind.Gravity, QuantityKind.Temperature }.Select(quantity => new SensorStatus(
                sensor,
                quantity,
                Placement.InLiquid,
                points.Count > 0 ? points[^1].At : null,
                points.Count > 0 ? received : null,
                points.Count > 0 ? TimeSpan.FromMinutes(15) : null,
                inoculated))),
            Episodes = ValueList.Of<AlertEpisode>(),
            GravityCounts = new ReadingCounts(points.Count * 2, 0),
        };
    }

    private static Reason TooWarm(double celsius, TimeSpan ago) => Reason.Of(
        "temperature-above-band",
        new ReasonValue.Name("float-damson"),
        new ReasonValue.Degrees(celsius),
        new ReasonValue.Degrees(21),
        new ReasonValue.Moment(NowEvent - ago),
        new ReasonValue.Degrees(celsius + 0.2));

    private static TimelineEvent Happened(EventTime at, JournalKind kind, string code) => new(at, kind, Reason.Of(code, new ReasonValue.Name("")));

    private static List<GravityPoint> Falling(EventTime from, double first, double last, double days, int seed)
    {
        var random = new Random(seed);
        var count = (int)(days * 24);
        return [.. Enumerable.Range(0, count + 1).Select(i =>
        {
            var share = (double)i / count;
            var eased = share < 0.1 ? share * share * 5 : 0.05 + ((share - 0.1) / 0.9 * 0.95);
            var value = first + ((last - first) * eased) + ((random.NextDouble() - 0.5) * 0.0012);
            return new GravityPoint(from + TimeSpan.FromHours(i), SpecificGravity.FromRatio(value), 4);
        })];
    }

    private static List<TemperaturePoint> Temperatures(EventTime from, EventTime until)
    {
        var points = new List<TemperaturePoint>();
        for (var at = from; at <= until; at += TimeSpan.FromHours(1))
        {
            var hours = (at - from).TotalHours;
            var celsius = 19.3 + (1.2 * Math.Sin(hours / 24 * Math.PI / 2)) + (1.1 * Math.Exp(-Math.Pow((hours - 50) / 14, 2)));
            points.Add(new TemperaturePoint(at, Temperature.FromCelsius(celsius), Temperature.FromCelsius(celsius - 0.1), Temperature.FromCelsius(celsius + 0.1)));
        }

        return points.Count > 1 ? points : [];
    }

    private static List<FutureCurve> Futures(GravityPoint from) =>
        [.. Enumerable.Range(0, 20).Select(i =>
        {
            var days = 10.5 + (0.5 * i) + (0.018 * i * i);
            var chance = (((i * 7) % 20) + 0.5) / 20;
            var end = 0.999 + (0.0018 * Math.Log(chance / (1 - chance)));
            var points = Enumerable.Range(0, 25).Select(n =>
            {
                var share = n / 24d;
                return new CurvePoint(from.At + TimeSpan.FromDays(days * share), SpecificGravity.FromRatio(end + ((from.Gravity.Value - end) * Math.Pow(1 - share, 1.9))));
            });
            return new FutureCurve(from.At + TimeSpan.FromDays(days), SpecificGravity.FromRatio(end), ValueList.Of(points));
        })];
}
