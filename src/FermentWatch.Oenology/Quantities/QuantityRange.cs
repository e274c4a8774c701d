using System.Globalization;

namespace FermentWatch.Oenology.Quantities;

/// <summary>Says, in one place and one wording, that a number is outside what a quantity can be.</summary>
internal static class QuantityRange
{
    /// <summary>Returns <paramref name="value"/> when it is finite and inside the closed range; throws otherwise.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The message names the quantity, the value and both bounds.</exception>
    public static double Require(double value, double low, double high, string quantity, string unit)
    {
        if (double.IsFinite(value) && value >= low && value <= high)
        {
            return value;
        }

        var behind = string.IsNullOrEmpty(unit) ? string.Empty : " " + unit;
        throw new ArgumentOutOfRangeException(
            quantity,
            value,
            string.Create(CultureInfo.InvariantCulture, $"{quantity} is {value}{behind}; it must be from {low} to {high}{behind}."));
    }
}
