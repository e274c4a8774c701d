namespace FermentWatch.Monitoring.Forecasting;

/// <summary>Positions of the curve's parameters. Gravity in points (thousandths above water), time in hours at 20 °C.</summary>
internal static class CurveParameter
{
    /// <summary>Gravity at the start of the curve. [points]</summary>
    public const int Start = 0;

    /// <summary>Gravity without fermentable sugar, against the kind's usual one. [points]</summary>
    public const int DryOffset = 1;

    /// <summary>Alcohol at which the yeast gives up. [% vol]</summary>
    public const int Tolerance = 2;

    /// <summary>Logarithm of the fall of gravity in an hour at full activity and plenty of sugar. [ln points/h]</summary>
    public const int LogRate = 3;

    /// <summary>Logarithm of the time of half activity. [ln h]</summary>
    public const int LogOnset = 4;

    /// <summary>Logarithm of the width of the onset as a part of its time.</summary>
    public const int LogOnsetWidth = 5;

    /// <summary>Logarithm of the gravity above the dry end at which the rate is halved. [ln points]</summary>
    public const int LogHalfRate = 6;

    /// <summary>Logarithm of the activity lost in an hour when 40 points are used. [ln 1/h]</summary>
    public const int LogLoss = 7;

    /// <summary>Logarithm of the power n in the inhibition 1 - (alcohol/tolerance)ⁿ: near 1 alcohol slows all the way, higher it acts late.</summary>
    public const int LogInhibition = 8;

    /// <summary>Temperature at which the cold halves the rate. [°C]</summary>
    public const int ColdLimit = 9;

    /// <summary>Number of parameters.</summary>
    public const int Count = 10;
}
