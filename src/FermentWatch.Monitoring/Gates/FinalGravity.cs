using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Gates;

/// <summary>
/// Whether the final gravity is reached. Two ways show it: the alert <c>ready-to-stabilize</c> with a degassed hand reading that agrees with the sensor, or the
/// hand series alone.
/// </summary>
/// <remarks>Hand and sensor agree when they differ by no more than the root of the sum of the squares of both errors. The errors are common practice, no source.</remarks>
internal static class FinalGravity
{
    private const string Code = "final-gravity";

    public static GateCondition Of(GateFacts facts)
    {
        var series = HandSeries.Flat(facts) with { Code = Code };
        if (series.State is ConditionState.Met || facts.ReadySince is not { } ready || facts.Settings.HandReadings > 1)
        {
            return series.Because.Code == "gate-no-hand-reading" ? series with { Because = Reason.Of("gate-final-neither") } : series;
        }

        var told = new ReasonValue.Moment(ready);
        if (facts.CountingReadings().LastOrDefault(entry => entry.At >= ready) is not { } hand)
        {
            return facts.Settings.HandReadings == 0
                ? new(Code, ConditionState.Met, Reason.Of("gate-ready-hand-off", told), ready)
                : facts.HandReadings().LastOrDefault(entry => entry.At >= ready) is { } gassy
                ? new(Code, ConditionState.Unknown, HandSeries.OfGas(gassy), gassy.At)
                : new(Code, ConditionState.Unknown, Reason.Of("gate-ready-hand-missing", told), ready);
        }

        if (series.Because.Code == "gate-hand-gassy-lower")
        {
            return series;
        }

        if (facts.SensorAt(hand.At) is not { } sensor)
        {
            return new(Code, ConditionState.Unknown, Reason.Of("gate-ready-sensor-missing", told, HandSeries.Gravity(hand), new ReasonValue.Moment(hand.At)), hand.At);
        }

        var apart = Math.Abs(hand.Gravity!.Value.Points - sensor);
        var error = Math.Sqrt((facts.Settings.HydrometerErrorPoints * facts.Settings.HydrometerErrorPoints) + (facts.Settings.SensorErrorPoints * facts.Settings.SensorErrorPoints));
        ReasonValue[] values = [HandSeries.Gravity(hand), new ReasonValue.Gravity(1 + (sensor / 1000)), Difference(apart), Difference(error), told, HandSeries.Samples(hand)];
        return apart <= error
            ? new(Code, ConditionState.Met, Reason.Of("gate-ready-hand-agrees", values), hand.At)
            : new(Code, ConditionState.NotMet, Reason.Of("gate-ready-hand-disagrees", values), hand.At);
    }

    private static ReasonValue.Gravity Difference(double points) => new(points / 1000, IsDifference: true);
}
