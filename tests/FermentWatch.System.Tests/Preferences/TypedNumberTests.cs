using FermentWatch.Service.Dashboard.Words;
using Xunit;

namespace FermentWatch.System.Tests.Preferences;

/// <summary>Numbers as people type them.</summary>
public sealed class TypedNumberTests
{
    [Theory]
    [InlineData("1.012", DecimalMark.Point, 1.012)]
    [InlineData("1.012", DecimalMark.Comma, 1.012)]
    [InlineData("1,012", DecimalMark.Comma, 1.012)]
    [InlineData("19,4", DecimalMark.Point, 19.4)]
    [InlineData("0,998", DecimalMark.Point, 0.998)]
    [InlineData(" 21 ", DecimalMark.Point, 21)]
    [InlineData("-2,5", DecimalMark.Comma, -2.5)]
    [InlineData("\u22122.5", DecimalMark.Point, -2.5)]
    [InlineData("+3", DecimalMark.Point, 3)]
    [InlineData(".5", DecimalMark.Point, 0.5)]
    [InlineData("5,", DecimalMark.Comma, 5)]
    [InlineData("1234,567", DecimalMark.Point, 1234.567)]
    public void PlainNumber_IsRead(string text, DecimalMark mark, double expected)
    {
        Assert.True(TypedNumber.TryRead(text, mark, out var number, out var fault));
        Assert.Equal((expected, TypedFault.None), (number, fault));
    }

    [Theory]
    [InlineData(null, TypedFault.Empty)]
    [InlineData("  ", TypedFault.Empty)]
    [InlineData("1.012,5", TypedFault.TwoMarks)]
    [InlineData("1,012,000", TypedFault.TwoMarks)]
    [InlineData("1..2", TypedFault.TwoMarks)]
    [InlineData("1,012", TypedFault.MaybeThousands)]
    [InlineData("-12,500", TypedFault.MaybeThousands)]
    [InlineData("1e3", TypedFault.NotPlain)]
    [InlineData("20 °C", TypedFault.NotPlain)]
    [InlineData("1 012", TypedFault.NotPlain)]
    [InlineData("-", TypedFault.NotPlain)]
    [InlineData(",", TypedFault.NotPlain)]
    [InlineData("NaN", TypedFault.NotPlain)]
    [InlineData("٣", TypedFault.NotPlain)]
    [InlineData("0000000000000000000000000000001", TypedFault.TooLong)]
    public void AnythingElseWithAPoint_IsRefusedForItsReason(string? text, TypedFault expected)
    {
        Assert.False(TypedNumber.TryRead(text, DecimalMark.Point, out _, out var fault));
        Assert.Equal(expected, fault);
    }
}
