using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Monitoring.Telemetry.Calibration;

/// <summary>How a sensor's gravity is brought to that of hand readings.</summary>
/// <param name="OffsetPoints">Added at <paramref name="AroundPoints"/>. [thousandths]</param>
/// <param name="Scale">Slope around there, 0.5 to 2; 1 for a plain offset.</param>
/// <param name="AroundPoints">The gravity around which the scale turns. [thousandths above water]</param>
/// <param name="ErrorPoints">Half-width of the level's error. [thousandths]</param>
/// <param name="Pairs">The readings that it stands on.</param>
public sealed record GravityAdjustment(double OffsetPoints, double Scale, double AroundPoints, double ErrorPoints, ValueList<HandPair> Pairs)
{
    /// <summary>The adjusted gravity in thousandths above water.</summary>
    public double Apply(double points) => AroundPoints + OffsetPoints + (Scale * (points - AroundPoints));

    /// <summary>The adjusted gravity as a ratio, held to what a <see cref="SpecificGravity"/> can be.</summary>
    public double ApplyToRatio(double ratio) => Math.Clamp(1 + (Apply((ratio - 1) * 1000) / 1000), SpecificGravity.Lowest, SpecificGravity.Highest);
}

/// <summary>A calibration that the maker took over, dated; none is ever changed, only retired.</summary>
/// <param name="Id">Its number.</param>
/// <param name="Sensor">The sensor.</param>
/// <param name="From">From which event time on its readings are calibrated by it, until the next one begins.</param>
/// <param name="Curve">Gravity from inclination, or null.</param>
/// <param name="Adjustment">Gravity by hand readings, or null. Exactly one of the two is there.</param>
/// <param name="CreatedAt">When it was taken over.</param>
/// <param name="RetiredAt">When it was taken back, or null.</param>
public sealed record SensorCalibration(
    long Id,
    SensorId Sensor,
    EventTime From,
    InclinationCurve? Curve,
    GravityAdjustment? Adjustment,
    ReceivedAt CreatedAt,
    ReceivedAt? RetiredAt)
{
    /// <summary>The begin of a calibration that holds for all of a sensor's readings.</summary>
    public static EventTime Always { get; } = new(0);
}
