namespace FermentWatch.Monitoring.Forecasting;

/// <summary>What is assumed about ferments of one kind before any reading. Wide on purpose.</summary>
/// <remarks>
/// <para>Dry end = <see cref="DryLevel"/> - <see cref="DryPerStartPoint"/> x points of original gravity: alcohol lightens what the
/// unfermentable extract weighs, a point for about seven of original gravity. Wine of 1.095 ends dry near 0.993: 13 % vol of alcohol with the 19
/// to 30 g/L of sugar-free extract that laboratories find; mead of 1.090 near 0.991, cider of 1.050 near 0.998 (common practice, no source: 0.985 to 0.998, 0.996 to 1.000).</para>
/// <para>Rates, lags and losses are wide log-normal guesses around ferments of 5 to 40 days (common practice, no source).</para>
/// </remarks>
/// <param name="StartPoints">Usual original gravity when none was told. [points]</param>
/// <param name="StartPointsSpread">Its standard deviation. [points]</param>
/// <param name="DryLevel">See remarks. [points]</param>
/// <param name="DryPerStartPoint">See remarks.</param>
/// <param name="DrySpread">Standard deviation of the dry end. [points]</param>
/// <param name="TolerancePercent">Usual alcohol tolerance when none was told. [% vol]</param>
/// <param name="ToleranceSpread">Its standard deviation. [% vol]</param>
/// <param name="RatePerHour">Median fall in an hour at 20 °C at full activity and plenty of sugar. [points/h]</param>
/// <param name="OnsetHours">Median time to half of full activity at 20 °C. [h]</param>
/// <param name="HalfRatePoints">Median gravity above the dry end at which the rate is halved. [points]</param>
/// <param name="LossPerHour">Median part of the activity lost in an hour at 20 °C when 40 points are used. [1/h]</param>
public sealed record KindPrior(
    double StartPoints,
    double StartPointsSpread,
    double DryLevel,
    double DryPerStartPoint,
    double DrySpread,
    double TolerancePercent,
    double ToleranceSpread,
    double RatePerHour,
    double OnsetHours,
    double HalfRatePoints,
    double LossPerHour)
{
    /// <summary>The usual gravity without fermentable sugar, from the original gravity. [points]</summary>
    public double DryEnd(double originalPoints) => DryLevel - (DryPerStartPoint * originalPoints);

    /// <summary>Standard deviation of an original gravity told by the maker, against the sensor's own scale. [points]</summary>
    public double ToldStartSpread { get; init; } = 2.5;

    /// <summary>Standard deviation of a tolerance told by the maker. [% vol]</summary>
    public double ToldToleranceSpread { get; init; } = 0.6;

    /// <summary>Standard deviation of the logarithm of <see cref="RatePerHour"/>.</summary>
    public double LogRateSpread { get; init; } = 0.9;

    /// <summary>Standard deviation of the logarithm of <see cref="OnsetHours"/>.</summary>
    public double LogOnsetSpread { get; init; } = 0.7;

    /// <summary>Median width of the onset as a part of its time.</summary>
    public double OnsetWidth { get; init; } = 0.25;

    /// <summary>Standard deviation of the logarithm of <see cref="OnsetWidth"/>.</summary>
    public double LogOnsetWidthSpread { get; init; } = 0.5;

    /// <summary>Standard deviation of the logarithm of <see cref="HalfRatePoints"/>.</summary>
    public double LogHalfRateSpread { get; init; } = 0.9;

    /// <summary>Median power n in the inhibition 1 - (alcohol/tolerance)ⁿ.</summary>
    public double Inhibition { get; init; } = 2;

    /// <summary>Standard deviation of the logarithm of <see cref="Inhibition"/>.</summary>
    public double LogInhibitionSpread { get; init; } = 0.8;

    /// <summary>Usual temperature at which the cold halves the rate. [°C]</summary>
    public double ColdLimitCelsius { get; init; } = 8;

    /// <summary>Standard deviation of <see cref="ColdLimitCelsius"/>: yeasts differ. [°C]</summary>
    public double ColdLimitSpread { get; init; } = 2.5;

    /// <summary>Standard deviation of the logarithm of <see cref="LossPerHour"/>.</summary>
    public double LogLossSpread { get; init; } = 1;
}
