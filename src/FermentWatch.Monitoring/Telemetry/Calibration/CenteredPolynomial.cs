namespace FermentWatch.Monitoring.Telemetry.Calibration;

/// <summary>A polynomial in t = (x − center) / half-width, so that t runs from −1 to 1 over the points it was fitted to.</summary>
/// <param name="Center">Middle of the range of x.</param>
/// <param name="HalfWidth">Half of the range of x, above 0.</param>
/// <param name="Coefficients">Of 1, t, t² and so on.</param>
public sealed record CenteredPolynomial(double Center, double HalfWidth, ValueList<double> Coefficients)
{
    /// <summary>The value at <paramref name="x"/>.</summary>
    public double At(double x)
    {
        var t = (x - Center) / HalfWidth;
        var value = 0.0;
        for (var i = Coefficients.Count - 1; i >= 0; i--)
        {
            value = (value * t) + Coefficients[i];
        }

        return value;
    }

    /// <summary>Where within the range the curve turns or stands still, or null when it only rises or only falls. Order 3 at most.</summary>
    public double? TurningPoint()
    {
        var (rise, bend, twist) = (Of(1), 2 * Of(2), 3 * Of(3));
        double Slope(double t) => rise + (bend * t) + (twist * t * t);
        var vertex = twist == 0 ? 0 : Math.Clamp(-bend / (2 * twist), -1, 1);
        foreach (var (from, until) in ((double, double)[])[(-1, vertex), (vertex, 1)])
        {
            // Between the ends of a part the slope itself goes one way, so a change of sign is found by halving.
            var (low, high) = (from, until);
            if (Slope(low) * Slope(high) > 0)
            {
                continue;
            }

            for (var i = 0; i < 60; i++)
            {
                var middle = (low + high) / 2;
                (low, high) = Slope(from) * Slope(middle) > 0 ? (middle, high) : (low, middle);
            }

            return Center + (HalfWidth * high);
        }

        return null;
    }

    private double Of(int power) => power < Coefficients.Count ? Coefficients[power] : 0;
}
