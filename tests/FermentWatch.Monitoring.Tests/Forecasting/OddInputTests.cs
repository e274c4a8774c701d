using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Forecasting;

/// <summary>No input throws, and every forecast is filled, whatever a sensor or a person may have sent.</summary>
public class OddInputTests
{
    private static readonly EventTime Start = DrawnFerment.Inoculated;

    public static TheoryData<string> Cases =>
    [
        "one reading", "two equal times", "all equal", "rising", "all before inoculation", "far future now", "now before inoculation",
        "extreme values", "gap of a year", "microseconds apart", "hot and cold", "no original gravity", "tolerance zero", "counts zero",
        "original gravity below the readings", "events everywhere", "clock at 1970",
    ];

    [Theory]
    [MemberData(nameof(Cases))]
    public void OddCase_IsAnswered(string odd) => AssertAnswered(Odd(odd));

    [Property(MaxTest = 60, Replay = "3784164485969424601,710167784193624697,13")]
    public Property PointsThatOnceBrokeIt_AreAnswered() => ArbitraryPoints_AreAnswered();

    [Property(MaxTest = 100)]
    public Property ArbitraryPoints_AreAnswered() => Prop.ForAll(Arbitrary(), input =>
    {
        AssertAnswered(input);
        return true;
    });

    private static void AssertAnswered(ForecastInput input)
    {
        var forecast = Forecaster.At(input, TestContext.Current.CancellationToken);
        Assert.Equal(input.AsOf, forecast.AsOf);
        var ends = forecast.FinalGravity;
        Assert.True(ends.P05 <= ends.P50 && ends.P50 <= ends.P95);
        Assert.True(double.IsFinite(ends.P05.Value) && double.IsFinite(ends.P95.Value));
        Assert.True(forecast.Futures.Count is 0 or 20);
        Assert.NotEmpty(PhaseJudge.Assess(input).Because.Code);
    }

    private static ForecastInput Odd(string odd)
    {
        var usual = new DrawnFerment().Input(120, everyHours: 2);
        return odd switch
        {
            "one reading" => usual with { Gravity = Points((20, 90, 1)) },
            "two equal times" => usual with { Gravity = Points((20, 90, 1), (20, 40, 1)) },
            "all equal" => usual with { Gravity = Points([.. Enumerable.Range(0, 100).Select(i => ((double)i, 80.0, 2))]) },
            "rising" => usual with { Gravity = Points([.. Enumerable.Range(0, 100).Select(i => ((double)i, 60.0 + i, 2))]) },
            "all before inoculation" => usual with { InoculatedAt = usual.AsOf },
            "far future now" => usual with { AsOf = Start + TimeSpan.FromDays(20000) },
            "now before inoculation" => usual with { AsOf = Start - TimeSpan.FromDays(3) },
            "extreme values" => usual with { Gravity = Points((1, 590, 1), (2, -290, 1), (30, 590, 1), (40, -290, 9), (41, 0, 1), (42, 590, 1), (50, 3, 1), (60, 5, 1), (70, 590, 3)) },
            "gap of a year" => usual with { Gravity = Points((1, 90, 1), (2, 90, 1), (9000, 0, 1), (9001, 0, 1)), AsOf = Start + TimeSpan.FromHours(9002) },
            "microseconds apart" => usual with { Gravity = ValueList.Of<GravityPoint>(Enumerable.Range(0, 50).Select(i => new GravityPoint(new EventTime(Start.UnixMicroseconds + i), SpecificGravity.FromPoints(i), 1))) },
            "hot and cold" => usual with { Temperature = ValueList.Of<TemperaturePoint>(Enumerable.Range(0, 100).Select(i => Degrees(i, i % 2 == 0 ? -40 : 150))) },
            "no original gravity" => usual with { OriginalGravity = null, Tolerance = null, Temperature = ValueList.Of<TemperaturePoint>() },
            "tolerance zero" => usual with { Tolerance = AlcoholByVolume.FromPercent(0) },
            "counts zero" => usual with { Gravity = ValueList.Of<GravityPoint>(usual.Gravity.Select(p => p with { Count = 0 })) },
            "original gravity below the readings" => usual with { OriginalGravity = SpecificGravity.FromPoints(-300) },
            "events everywhere" => usual with { Events = ValueList.Of<TimelineEvent>(Enumerable.Range(-5, 200).Select(i => DrawnFerment.Journal((JournalKind)((i % 8 + 8) % 8 + 1), i))) },
            "clock at 1970" => usual with { InoculatedAt = new EventTime(0) },
            _ => throw new ArgumentOutOfRangeException(nameof(odd), odd, "no such case"),
        };
    }

    private static Arbitrary<ForecastInput> Arbitrary()
    {
        var point = from hours in Gen.Choose(-100, 3000)
                    from points in Gen.Frequency((8, Gen.Choose(-20, 130)), (1, Gen.Choose(-300, 600)))
                    from count in Gen.Choose(-1, 30)
                    select (hours / 2.0, (double)points, count);
        var entry = from kind in Gen.Choose(1, 8)
                    from hours in Gen.Choose(-50, 900)
                    select DrawnFerment.Journal((JournalKind)kind, hours);
        var inputs = from points in point.ListOf()
                     from entries in entry.ListOf().Resize(4)
                     from kind in Gen.Choose(0, 4)
                     from original in Gen.Choose(-50, 200)
                     from tolerance in Gen.Choose(0, 30)
                     from now in Gen.Choose(-10, 1600)
                     from celsius in Gen.Choose(-40, 60)
                     select new ForecastInput(
                         (FermentKind)kind,
                         Start,
                         original < 0 ? null : SpecificGravity.FromPoints(original),
                         tolerance > 25 ? null : AlcoholByVolume.FromPercent(tolerance),
                         Points([.. points]),
                         ValueList.Of<TemperaturePoint>(Degrees(now / 2.0, celsius)),
                         ValueList.Of<TimelineEvent>(entries),
                         PriorSnapshot.Shipped,
                         Start + TimeSpan.FromHours(now));
        return inputs.ToArbitrary();
    }

    private static ValueList<GravityPoint> Points(params (double Hours, double Points, int Count)[] points) =>
        ValueList.Of<GravityPoint>(points.Select(p => new GravityPoint(Start + TimeSpan.FromHours(p.Hours), SpecificGravity.FromPoints(Math.Clamp(p.Points, -299, 599)), p.Count)));

    private static TemperaturePoint Degrees(double hours, double celsius)
    {
        var value = Temperature.FromCelsius(celsius);
        return new TemperaturePoint(Start + TimeSpan.FromHours(hours), value, value, value);
    }
}
