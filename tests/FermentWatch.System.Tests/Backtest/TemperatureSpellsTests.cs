using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Service.Backtest;
using Xunit;

namespace FermentWatch.System.Tests.Backtest;

/// <summary>Spells outside 12 to 28 °C, looked at from hour 100; temperature every half hour.</summary>
public class TemperatureSpellsTests
{
    private static readonly EventTime Start = EventTime.From(new DateTimeOffset(2026, 3, 1, 8, 0, 0, TimeSpan.Zero));
    private static readonly TemperatureBand Band = new(Temperature.FromCelsius(12), Temperature.FromCelsius(28));

    [Fact]
    public void WithinTheBand_IsNone() => Assert.False(At(_ => 20));

    [Theory]
    [InlineData(90, 96, true)]
    [InlineData(80, 86, false)]
    [InlineData(83, 89, true)]
    [InlineData(93, 96, false)]
    public void SpellThatIsOver_CountsWhenItWasLongAndReachesIntoTheLastHalfDay(double from, double until, bool expected) =>
        Assert.Equal(expected, At(hours => hours >= from && hours <= until ? 30 : 20));

    [Theory]
    [InlineData(10)]
    [InlineData(31)]
    public void SpellThatLasts_CountsBeforeItIsLong(double celsius) => Assert.True(At(hours => hours >= 98.5 ? celsius : 20));

    [Fact]
    public void JustOutside_IsWithinWhatAThermometerMayBeOff() => Assert.False(At(_ => 28.3));

    [Theory]
    [InlineData(29, true)]
    [InlineData(28.7, false)]
    public void OneThatIsClearlyOutside_LastsFromWhereItLeftTheBand(double middle, bool expected) =>
        Assert.Equal(expected, At(hours => hours is < 90 or > 96 ? 20 : hours is > 92 and < 94 ? middle : 28.4));

    [Fact]
    public void OnItsWayOut_CountsAsSoonAsItIsOutside()
    {
        Assert.True(At(hours => 20 - (hours < 96 ? 0 : 2.2 * (hours - 96))));
        Assert.False(At(hours => 20 - (hours < 96 ? 0 : 1.5 * (hours - 96))));
    }

    [Fact]
    public void SilenceFarOutside_KeepsTheSpell()
    {
        Assert.True(At(_ => 7, silentFrom: 60));
        Assert.False(At(_ => 11.2, silentFrom: 60));
        Assert.False(At(_ => 7, silentFrom: 20));
    }

    [Fact]
    public void NoTemperature_IsNone() => Assert.False(TemperatureSpells.ReachesIntoTheLastHours(Band, ValueList.Of<TemperaturePoint>(), Start));

    private static bool At(Func<double, double> celsius, double silentFrom = 100)
    {
        var points = Enumerable.Range(0, 201).Select(i => i / 2.0).Where(hours => hours <= silentFrom).Select(hours =>
        {
            var liquid = Temperature.FromCelsius(celsius(hours));
            return new TemperaturePoint(Start + TimeSpan.FromHours(hours), liquid, liquid, liquid);
        });
        return TemperatureSpells.ReachesIntoTheLastHours(Band, ValueList.Of<TemperaturePoint>(points), Start + TimeSpan.FromHours(100));
    }
}
