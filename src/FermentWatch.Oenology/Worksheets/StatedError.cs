using System.Globalization;

namespace FermentWatch.Oenology.Worksheets;

/// <summary>An error as it is shown beside a number.</summary>
public static class StatedError
{
    /// <summary>The error with the digits of its number, rounded up: never shown smaller than it is, and never as none.</summary>
    /// <param name="half">Half-width, in the unit that is shown; 0 or more.</param>
    /// <param name="digits">Digits after the point of the number.</param>
    public static string Text(double half, int digits)
    {
        var step = Math.Pow(10, -digits);
        if (half > 0 && half < step / 2)
        {
            return half.ToString("G1", CultureInfo.InvariantCulture);
        }

        // The slack keeps 0.5 from becoming 0.6.
        return (Math.Ceiling((half / step) - 1e-6) * step).ToString("F" + digits.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
    }
}
