using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Monitoring.Forecasting;

/// <summary>Where a ferment will end, and when, with odds.</summary>
/// <remarks>
/// <para><b>Method.</b> A mechanistic curve (onset, sugar-limited use, loss of activity, thermal time) is fitted with wide priors and a
/// robust loss. Correlated noise lowers the weight of the readings. The likelihood profile of the final gravity, marginalized by
/// Laplace's approximation, gives the quantiles; each end carries its own finish time. Their ranges are corrected by what drawn ferments showed (RangeTable).</para>
/// <para><b>Valid.</b> Left alone: nothing that the maker will still do is foreseen; the temperature stays at the last day's mean.
/// <b>Error.</b> The 9-in-10 range covers 75 to 99 of 100 simulated ferments. <b>Check.</b> ForecastCoverageTests.</para>
/// <para>No input throws. Equal inputs give equal forecasts, whatever the order of their points.</para>
/// </remarks>
public static class Forecaster
{
    /// <summary>Version of the method as it is stored with each forecast.</summary>
    public const string EngineVersion = "curve-8";

    /// <summary>Widest 9-in-10 range of final gravity, in points, that still counts as determined by the readings.</summary>
    public const double WidestRangePoints = 45;

    private const int FewestPoints = 8;

    // A hand reading is an average over the vessel and days away from the next one: each says more than a sensor's.
    private const int FewestHandReadings = 3;
    private const int FitPoints = 100;
    private const double FreshHours = 36;

    /// <summary>The forecast as of <see cref="ForecastInput.AsOf"/>.</summary>
    /// <param name="input">What it stands on.</param>
    /// <param name="cancellation">Ends the work by throwing; never changes a result.</param>
    public static GravityForecast At(ForecastInput input, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(input);
        var data = CurveData.From(input);
        var prior = new CurvePrior(input, data);
        var thermal = new ThermalTime(input.Temperature, data.Origin, data.NowHours);
        var curve = new FermentCurve(input.Prior.For(input.Kind), thermal, data.NowHours, data.UsedBefore);
        var nutrients = HoursSinceNutrient(input);
        if (nutrients is not null)
        {
            // Its effect does not show yet: loosen what the readings so far say about the loss of activity.
            prior.Spread[CurveParameter.LogLoss] *= 1.4;
        }

        var rough = new FermentCurve(input.Prior.For(input.Kind), thermal, data.NowHours, data.UsedBefore, FermentCurve.FewPastSteps);
        var fitter = new CurveFitter(prior, data, curve, rough, nutrients is null ? 1 : 0.5);
        var best = fitter.Fit(cancellation);
        var fitted = fitter.Problem.Gravity(best)[..(curve.PastCount + 1)].ToArray();
        var nodes = new EndProfile(fitter, prior, curve).Walk(best, cancellation);
        var usual = new EndBelief(prior, curve, prior.Center[CurveParameter.Start] + data.UsedBefore);
        var odds = new EndOdds(nodes, curve, data, (usual.Mean, usual.Spread), input.ByHand ? StayOdds.None : StayOdds.Of(data, RestEvidence.Of(data), thermal));
        var raw = new Quantiles<double>(odds.End(0.05), odds.End(0.25), odds.End(0.5), odds.End(0.75), odds.End(0.95));
        var began = (input.OriginalGravity is not null || data.Restarted ? prior.Center[CurveParameter.Start] : fitted[0]) + data.UsedBefore;
        var share = Math.Clamp((began - odds.Level) / Math.Max(began - raw.P50, 1), 0, 1);
        var ends = InGravity(input.ByHand ? raw : RangeTable.Corrected(raw, share));
        var at = input.ByHand ? new Quantiles<double>(0.05, 0.25, 0.5, 0.75, 0.95) : RangeTable.FinishOdds(share);
        var earliest = input.ByHand ? odds.Finish(at.P05) : Sooner(odds.Finish(at.P05), input.AsOf, RangeTable.EarliestPart(share));
        var finish = new Quantiles<EventTime?>(earliest, odds.Finish(at.P25), odds.Finish(at.P50), odds.Finish(at.P75), odds.Finish(at.P95));
        return new GravityForecast(
            input.AsOf, EngineVersion, NotYet(data, fitted, ends, input.ByHand ? FewestHandReadings : FewestPoints), ends, finish, Fit(data, curve, fitted), odds.Futures())
        {
            Prior = input.Prior.Version,
            Basis = BasisOf(input, data, prior),
        };
    }

    private static ValueList<Reason> BasisOf(ForecastInput input, CurveData data, CurvePrior prior)
    {
        var own = input.Prior.Learned.FirstOrDefault(one => one.Kind == input.Kind)?.Because(PriorSnapshot.Shipped.For(input.Kind), prior.OriginalPoints);
        var forced = ForcedEnd.Because(input, data, input.Prior.For(input.Kind), prior.OriginalPoints);
        return ValueList.Of<Reason>(new[] { own, forced }.OfType<Reason>());
    }

    private static Quantiles<SpecificGravity> InGravity(Quantiles<double> points) => new(
        EndOdds.Gravity(points.P05), EndOdds.Gravity(points.P25), EndOdds.Gravity(points.P50), EndOdds.Gravity(points.P75), EndOdds.Gravity(points.P95));

    private static EventTime? Sooner(EventTime? at, EventTime now, double part) => at is { } later && later > now ? now + ((later - now) * part) : at;

    private static double? HoursSinceNutrient(ForecastInput input)
    {
        double? since = null;
        foreach (var entry in input.Events)
        {
            var hours = (input.AsOf - entry.At).TotalHours;
            if (entry.Kind == JournalKind.NutrientAdded && hours is >= 0 and < FreshHours)
            {
                since = Math.Min(since ?? hours, hours);
            }
        }

        return since;
    }

    private static Reason? NotYet(CurveData data, double[] fitted, Quantiles<SpecificGravity> ends, int fewest)
    {
        if (data.Count < fewest)
        {
            return Reason.Of("not-yet-too-few-readings", new ReasonValue.Count(data.Count), new ReasonValue.Count(fewest));
        }

        var fallen = fitted[0] - fitted[^1];
        var whole = fitted[0] - ends.P50.Points;
        if (!data.Restarted && fallen < 0.25 * whole)
        {
            return Reason.Of("not-yet-too-early", new ReasonValue.Gravity(fallen / 1000, true), new ReasonValue.Gravity(whole / 1000, true));
        }

        var width = ends.P95.Points - ends.P05.Points;
        return width > WidestRangePoints
            ? Reason.Of("not-yet-range-wide", new ReasonValue.Gravity(width / 1000, true), new ReasonValue.Gravity(WidestRangePoints / 1000, true))
            : null;
    }

    private static ValueList<CurvePoint> Fit(CurveData data, FermentCurve curve, double[] fitted)
    {
        if (data.Count == 0)
        {
            return ValueList.Of<CurvePoint>();
        }

        var count = Math.Min(FitPoints, fitted.Length);
        var points = new List<CurvePoint>(count);
        for (var k = 0; k < count; k++)
        {
            var i = count == 1 ? 0 : (int)Math.Round(k * (fitted.Length - 1.0) / (count - 1));
            points.Add(new CurvePoint(data.Origin + TimeSpan.FromHours(curve.Hours[i]), EndOdds.Gravity(fitted[i])));
        }

        return ValueList.Of<CurvePoint>(points);
    }
}
