using FermentWatch.Oenology.Worksheets;

namespace FermentWatch.Oenology.Tests.Worksheets;

public sealed class QuantityKindTests
{
    // Exact definitions: the US gallon is 231 cubic inches of 16.387064 mL, the pound 453.59237 g, the ounce a sixteenth of it, 0 °C is 32 °F.
    // 11 % sucrose at 20 °C has 1042.3 kg/m³ [CRC102] (rounded to 0.1), water 998.2: a ratio of 1.04418.
    [Theory]
    [InlineData("volume", "5 gal", 5 * 231 * 16.387064 / 1000, 1e-9)]
    [InlineData("volume", "750mL", 0.75, 1e-12)]
    [InlineData("mass", "1 lb", 453.59237, 1e-9)]
    [InlineData("mass", "1oz", 453.59237 / 16, 1e-9)]
    [InlineData("large-mass", "3 lb", 1.36077711, 1e-9)]
    [InlineData("temperature", "68 °F", 20, 1e-9)]
    [InlineData("temperature", "68F", 20, 1e-9)]
    [InlineData("temperature", "-4", -4, 0)]
    [InlineData("temperature-difference", "18 °F", 10, 1e-9)]
    [InlineData("gravity", "11 °P", 1.04418, 1.5e-4)]
    [InlineData("gravity", "1.040", 1.040, 0)]
    [InlineData("small-dose", "0.05 g/L", 50, 1e-9)]
    [InlineData("dose", "20 g/hL", 0.2, 1e-9)]
    [InlineData("pressure", "100 kPa", 1, 1e-9)]
    [InlineData("days", "2 wk", 14, 1e-9)]
    public void NumberWithUnit_IsReadIntoTheKeptUnit(string kind, string text, double expected, double tolerance)
    {
        Assert.True(Of(kind).TryRead(text, out var value), text);
        Assert.InRange(value, expected - tolerance, expected + tolerance);
    }

    [Theory]
    [InlineData("volume", "5 °C")]
    [InlineData("volume", "1,5")]
    [InlineData("volume", "1 000")]
    [InlineData("volume", "NaN")]
    [InlineData("volume", "")]
    [InlineData("volume", "L")]
    [InlineData("gravity", "900 °P")]
    [InlineData("temperature", "1e999")]
    public void WhatIsNoNumberOfThisKind_IsNotRead(string kind, string text) => Assert.False(Of(kind).TryRead(text, out _));

    [Fact]
    public void EveryUnit_LeadsBackToItself() => Assert.All(QuantityKind.All, kind => Assert.All(kind.Units, unit =>
    {
        // Inside the range of every unit, gravity as ratio and extract in degrees included.
        foreach (var kept in kind == QuantityKind.Gravity ? [1.01, 1.05, 1.12] : new[] { 1.5, 12, 30 })
        {
            Assert.Equal(kept, unit.ToKept(unit.FromKept(kept)), 1e-9);
        }
    }));

    [Fact]
    public void Names_AreUnique() => Assert.Equal(QuantityKind.All.Count, QuantityKind.All.Select(kind => kind.Name).Distinct().Count());

    private static QuantityKind Of(string name) => QuantityKind.All.Single(kind => kind.Name == name);
}
