using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Monitoring.Telemetry.Calibration;

/// <summary>A floating device in a solution of known gravity.</summary>
/// <param name="Degrees">Its inclination, 0 to 90.</param>
/// <param name="Gravity">Specific gravity 20/20 of the solution.</param>
public readonly record struct CalibrationPoint(double Degrees, double Gravity);

/// <summary>Gravity over inclination, by the maker's own points.</summary>
/// <remarks>The curve is valid between the lowest and the highest inclination of its points. Up to a tenth of that span beyond, a value
/// is computed and marked; further out it is held at that edge and set aside. The tenth is our own choice, no source.</remarks>
public sealed record InclinationCurve
{
    /// <summary>Fewest points with different inclinations.</summary>
    public const int FewestPoints = 4;

    /// <summary>Highest order.</summary>
    public const int HighestOrder = 3;

    private const double Margin = 0.1;
    private const double LeastSpan = 0.005;

    private InclinationCurve(ValueList<CalibrationPoint> points, int order, CenteredPolynomial curve) =>
        (Points, Order, Curve) = (points, order, curve);

    /// <summary>The points, by inclination.</summary>
    public ValueList<CalibrationPoint> Points { get; }

    /// <summary>Order of the polynomial, 1 to 3.</summary>
    public int Order { get; }

    /// <summary>Specific gravity over degrees.</summary>
    public CenteredPolynomial Curve { get; }

    /// <summary>Standard deviation of the points about the curve, in specific gravity; null when the curve has as many coefficients as there are points.</summary>
    public double? Scatter
    {
        get
        {
            var free = Points.Count - Order - 1;
            return free <= 0 ? null : Math.Sqrt(Points.Sum(point => Residual(point) * Residual(point)) / free);
        }
    }

    /// <summary>Fits the curve, or says why it can't be used.</summary>
    /// <param name="points">Inclination 0 to 90°, gravity 0.9 to 1.3; in any order.</param>
    /// <param name="order">1 to 3.</param>
    /// <returns>The curve, or null with the reason.</returns>
    public static (InclinationCurve? Curve, Reason? Refused) Fit(IEnumerable<CalibrationPoint> points, int order)
    {
        var sorted = points.OrderBy(point => point.Degrees).ThenBy(point => point.Gravity).ToArray();
        var distinct = sorted.Select(point => point.Degrees).Distinct().Count();
        if (order is < 1 or > HighestOrder)
        {
            return (null, Reason.Of("calibration-order", new ReasonValue.Count(order)));
        }

        if (distinct < FewestPoints)
        {
            return (null, Reason.Of("calibration-too-few-points", new ReasonValue.Count(distinct)));
        }

        if (sorted.Max(point => point.Gravity) - sorted.Min(point => point.Gravity) < LeastSpan)
        {
            return (null, Reason.Of("calibration-flat", new ReasonValue.Gravity(1)));
        }

        var curve = PolynomialFit.Of([.. sorted.Select(point => point.Degrees)], [.. sorted.Select(point => point.Gravity)], order);
        return curve.TurningPoint() is { } turn
            ? (null, Reason.Of("calibration-turns", new ReasonValue.Measured(Math.Round(turn, 1), MeasurementUnit.Degrees)))
            : (new InclinationCurve(ValueList.Of<CalibrationPoint>(sorted), order, curve), null);
    }

    /// <summary>Gravity of the point less that of the curve at its inclination.</summary>
    public double Residual(CalibrationPoint point) => point.Gravity - Curve.At(point.Degrees);

    /// <summary>Gravity at an inclination, and where that stands towards the points.</summary>
    public (double Gravity, CalibrationReach Reach) At(double degrees)
    {
        var (lowest, highest) = (Points[0].Degrees, Points[^1].Degrees);
        var margin = Margin * (highest - lowest);
        var reach = degrees >= lowest && degrees <= highest ? CalibrationReach.Within
            : degrees >= lowest - margin && degrees <= highest + margin ? CalibrationReach.Extrapolated
            : CalibrationReach.Beyond;
        var gravity = Curve.At(Math.Clamp(degrees, lowest - margin, highest + margin));
        return (Math.Clamp(gravity, SpecificGravity.Lowest, SpecificGravity.Highest), reach);
    }
}
