using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Service.Dashboard.Pictures;

/// <summary>The view box of a picture.</summary>
public enum PictureWidth
{
    /// <summary>340 wide, for a phone.</summary>
    Phone = 0,

    /// <summary>700 wide, for a desk and for paper.</summary>
    Wide = 1,
}

/// <summary>What the curve shows.</summary>
public enum CurveKind
{
    /// <summary>Sugar left in g/L, by mass balance from gravity.</summary>
    Sugar = 0,

    /// <summary>Specific gravity as measured.</summary>
    Gravity = 1,
}

/// <summary>Which part of the curve.</summary>
public enum CurvePart
{
    /// <summary>From inoculation to the last possible end.</summary>
    All = 0,

    /// <summary>The last seven days.</summary>
    Week = 1,

    /// <summary>The last 30 g/L of sugar.</summary>
    Tail = 2,
}

/// <summary>Which picture of a batch is wanted.</summary>
/// <param name="Width">View box.</param>
/// <param name="Kind">Sugar or gravity.</param>
/// <param name="Part">Which part; ignored where a range is given.</param>
/// <param name="From">Start of an own range, or null.</param>
/// <param name="Until">End of an own range, or null.</param>
public sealed record PictureRequest(
    PictureWidth Width,
    CurveKind Kind = CurveKind.Sugar,
    CurvePart Part = CurvePart.All,
    EventTime? From = null,
    EventTime? Until = null);
