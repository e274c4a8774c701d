using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Density;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Service.Dashboard.Words;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;
using Xunit;

namespace FermentWatch.System.Tests.Preferences;

/// <summary>Figures in the reader's units, there and back.</summary>
public sealed class ReaderFiguresTests
{
    private static readonly Reader Usual = new(TimeZoneInfo.Utc);
    private static readonly Reader American = Of(GravityUnit.Plato, DecimalMark.Comma);

    [Fact]
    public void UsualUnits_AreWrittenAsTheTradeWritesThem()
    {
        Assert.Equal("1.066", Usual.Gravity(1.0660));
        Assert.Equal("0.0004", Usual.GravityDifference(0.0004));
        Assert.Equal("15 points", Plain(Usual.Fall(0.015)));
        Assert.Equal("19.4 °C", Plain(Usual.Degrees(19.4)));
        Assert.Equal("19.0 L", Plain(Usual.Volume(19)));
        Assert.Equal("250 g", Plain(Usual.Mass(250)));
    }

    [Fact]
    public void DayBesideAnother_IsShortWithinItsMonthAndWholeBeyondIt()
    {
        var middle = Day(2026, 12, 2);
        Assert.Equal("Sunday 6", Plain(Usual.DayBeside(Day(2026, 12, 6), middle)));
        Assert.Equal("Monday, November 30", Plain(Usual.DayBeside(Day(2026, 11, 30), middle)));
        Assert.Equal("Sunday, December 6", Plain(Usual.DayInFull(Day(2026, 12, 6), middle)));
        Assert.Equal("Thursday, March 18, 2027", Plain(Usual.DayInFull(Day(2027, 3, 18), middle)));
        Assert.True(Usual.SameMonth(Day(2026, 12, 1), middle));
        Assert.False(Usual.SameMonth(Day(2026, 11, 30), middle));
        Assert.False(Usual.SameMonth(Day(2027, 12, 2), middle));
    }

    private static EventTime Day(int year, int month, int day) => EventTime.From(new DateTimeOffset(year, month, day, 12, 0, 0, TimeSpan.Zero));

    [Fact]
    public void OtherUnits_AreConvertedByTheirDefinitions()
    {
        // 1.8 t + 32, the liquid gallon of 231 cubic inches and the ounce of 28.349523125 g: NIST SP 811 (2008), appendix B.
        Assert.Equal("68,0 °F", Plain(American.Degrees(20)));
        Assert.Equal("1,1 °F", Plain(American.DegreesApart(0.6)));
        Assert.Equal("5,00 gal", Plain(American.Volume(5 * 231 * 0.0163870640)));
        Assert.Equal("8,0 oz", Plain(American.Mass(8 * 28.349523125)));
        // 12 °P is 1.04837 at 20/20 °C: from memory of the brewers' table, and by the polynomial that the density tests check.
        Assert.Equal("12,0 °P", Plain(American.Gravity(1.04837)));
    }

    [Theory]
    [InlineData(-0.0001, "F1", "0.0")]
    [InlineData(-0.06, "F1", "-0.1")]
    public void NumberNearZero_HasAMinusOnlyWhereItShowsOne(double value, string format, string expected) =>
        Assert.Equal(expected, Usual.Number(value, format));

    [Property(MaxTest = 500)]
    public Property Written_ReadBackWithinHalfADigit() => Prop.ForAll(
        Gen.Choose(0, 100000).Select(n => n / 100000d).ToArbitrary(),
        Gen.Elements(Units().ToArray()).ToArbitrary(),
        (share, units) =>
        {
            var reader = new Reader(TimeZoneInfo.Utc, units);
            var ratio = 0.98 + (share * 0.2);
            var gravity = reader.ReadGravity(Bare(reader.Gravity(ratio)));
            var celsius = -5 + (share * 60);
            var temperature = reader.ReadTemperature(Bare(reader.Degrees(celsius)));
            var liters = 1 + (share * 90);
            var volume = reader.ReadVolume(Bare(reader.Volume(liters)));
            var grams = 0.5 + (share * 5000);
            var mass = reader.ReadMass(Bare(reader.Mass(grams)));
            var (perLiter, perGram) = (units.Volume == VolumeUnit.Liters ? 1 : 3.785411784, units.Mass == MassUnit.Grams ? 1 : 28.349523125);
            var shownMass = grams / perGram;
            return (gravity.Value is { } g && Within(reader.GravityValue(g.Value), reader.GravityValue(ratio), reader.GravityDigit))
                .Label($"gravity {gravity} of {ratio}")
                .And((temperature.Value is { } t && Within(t.Celsius, celsius, units.Temperature == TemperatureUnit.Celsius ? 0.1 : 0.1 / 1.8)).Label($"{temperature} of {celsius} °C"))
                .And((volume.Value is { } v && Within(v.Liters, liters, perLiter == 1 ? 0.1 : 0.01 * perLiter)).Label($"{volume} of {liters} L"))
                .And((mass.Value is { } m && Within(m, grams, (shownMass < 1 ? 0.01 : shownMass < 100 ? 0.1 : 1) * perGram)).Label($"{mass} of {grams} g"));
        });

    [Fact]
    public void NumberOfAnotherUnit_IsRefusedWithWhatWouldBeRight()
    {
        Assert.Equal("1012 SG cannot be. Give 0.700 to 1.600 SG, such as 1.012.", Usual.ReadGravity("1012").Fault);
        Assert.Equal("'abc' is not a plain number. Give digits, one decimal mark and no unit: a number in °F, such as 68.", American.ReadTemperature("abc").Fault);
        Assert.NotNull(Usual.ReadTemperature("-41").Fault);
        Assert.NotNull(Usual.ReadVolume("-1").Fault);
        Assert.NotNull(Usual.ReadMass("1.000,5").Fault);
        Assert.NotNull(American.ReadGravity("90").Fault);
    }

    [Fact]
    public void DifferenceInPlato_IsThatOfTwoGravitiesWithinATenth()
    {
        foreach (var from in (double[])[1.005, 1.020, 1.040, 1.060, 1.080, 1.095])
        {
            var exact = GravityUnits.PlatoOf(SpecificGravity.FromRatio(from + 0.004)).Degrees - GravityUnits.PlatoOf(SpecificGravity.FromRatio(from)).Degrees;
            var typed = American.ReadGravity(Bare(American.GravityDifference(0.004)));
            Assert.InRange(American.GravityValue(typed.Value!.Value.Value), exact - 0.15, exact + 0.15);
        }
    }

    [Theory]
    [InlineData("Asia/Kolkata", "5:30 pm")]
    [InlineData("Asia/Kathmandu", "5:45 pm")]
    [InlineData("America/St_Johns", "9:30 am")]
    [InlineData("UTC", "12:00 pm")]
    public void Zone_ShiftsTimesByItsOffset(string zone, string clock)
    {
        // tz database: +05:30, +05:45 and, in summer, -02:30.
        var reader = new Reader(TimeZoneInfo.FindSystemTimeZoneById(zone));
        Assert.Equal(clock, Plain(reader.Clock(new DateTimeOffset(2026, 7, 1, 12, 0, 0, TimeSpan.Zero))));
    }

    private static bool Within(double value, double expected, double digit) => Math.Abs(value - expected) <= (digit / 2) + 1e-6;

    private static Reader Of(GravityUnit gravity, DecimalMark mark) =>
        new(TimeZoneInfo.Utc, new Units(gravity, TemperatureUnit.Fahrenheit, VolumeUnit.UsGallons, MassUnit.Ounces, mark));

    private static IEnumerable<Units> Units() =>
        from gravity in Enum.GetValues<GravityUnit>()
        from temperature in Enum.GetValues<TemperatureUnit>()
        from volume in Enum.GetValues<VolumeUnit>()
        from mass in Enum.GetValues<MassUnit>()
        from mark in Enum.GetValues<DecimalMark>()
        select new Units(gravity, temperature, volume, mass, mark);

    private static string Bare(string figure) => Plain(figure).Split(' ')[0];

    private static string Plain(string text) => text.Replace(Figures.NoBreak, ' ');
}
