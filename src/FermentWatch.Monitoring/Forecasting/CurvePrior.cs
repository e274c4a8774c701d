namespace FermentWatch.Monitoring.Forecasting;

/// <summary>Centers, spreads and bounds of the curve's parameters for one batch: the kind's prior and what the maker told.</summary>
internal sealed class CurvePrior
{
    public CurvePrior(ForecastInput input, CurveData data)
    {
        var kind = input.Prior.For(input.Kind);
        Center = new double[CurveParameter.Count];
        Spread = new double[CurveParameter.Count];
        (Center[CurveParameter.Start], Spread[CurveParameter.Start]) = StartOf(input, data, kind);
        OriginalPoints = Center[CurveParameter.Start] + data.UsedBefore;
        (Center[CurveParameter.DryOffset], Spread[CurveParameter.DryOffset]) = ForcedEnd.DryOffset(input, data, kind, OriginalPoints);
        (Center[CurveParameter.Tolerance], Spread[CurveParameter.Tolerance]) = input.Tolerance is { } told
            ? (told.Percent, kind.ToldToleranceSpread)
            : (kind.TolerancePercent, kind.ToleranceSpread);
        (Center[CurveParameter.LogRate], Spread[CurveParameter.LogRate]) = (Math.Log(kind.RatePerHour), kind.LogRateSpread);
        (Center[CurveParameter.LogOnset], Spread[CurveParameter.LogOnset]) = data.Restarted
            ? (Math.Log(3), 1.2)
            : (Math.Log(kind.OnsetHours), kind.LogOnsetSpread);
        (Center[CurveParameter.LogOnsetWidth], Spread[CurveParameter.LogOnsetWidth]) = (Math.Log(kind.OnsetWidth), kind.LogOnsetWidthSpread);
        (Center[CurveParameter.LogHalfRate], Spread[CurveParameter.LogHalfRate]) = (Math.Log(kind.HalfRatePoints), kind.LogHalfRateSpread);
        (Center[CurveParameter.LogLoss], Spread[CurveParameter.LogLoss]) = (Math.Log(kind.LossPerHour), kind.LogLossSpread);
        (Center[CurveParameter.LogInhibition], Spread[CurveParameter.LogInhibition]) = (Math.Log(kind.Inhibition), kind.LogInhibitionSpread);
        (Center[CurveParameter.ColdLimit], Spread[CurveParameter.ColdLimit]) = (kind.ColdLimitCelsius, kind.ColdLimitSpread);
        Low = [-30, -25, 2, Math.Log(1e-3), Math.Log(0.3), Math.Log(0.03), Math.Log(1), Math.Log(1e-7), Math.Log(0.4), ThermalTime.LowestColdLimit];
        High = [320, 40, 28, Math.Log(30), Math.Log(1500), Math.Log(2), Math.Log(400), Math.Log(0.5), Math.Log(10), ThermalTime.HighestColdLimit];
        for (var j = 0; j < CurveParameter.Count; j++)
        {
            Center[j] = Math.Clamp(Center[j], Low[j], High[j]);
        }
    }

    /// <summary>Original gravity as it is assumed before any curve, with what was added since counted in. [points]</summary>
    public double OriginalPoints { get; }

    public double[] Center { get; }

    public double[] Spread { get; }

    public double[] Low { get; }

    public double[] High { get; }

    private static (double Center, double Spread) StartOf(ForecastInput input, CurveData data, KindPrior kind)
    {
        if (data.Restarted)
        {
            return data.Count > 0
                ? (CurveData.Median(data.Points.AsSpan(0, Math.Min(6, data.Count))), 5)
                : (kind.StartPoints / 2, kind.StartPointsSpread * 2);
        }

        return input.OriginalGravity is { } told
            ? (told.Points, kind.ToldStartSpread)
            : (kind.StartPoints, kind.StartPointsSpread);
    }
}
