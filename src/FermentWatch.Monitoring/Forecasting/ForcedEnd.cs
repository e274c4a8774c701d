using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Monitoring.Forecasting;

/// <summary>A forced fermentation test: a sample of the must, kept warm with plenty of yeast, that came to its end.</summary>
/// <param name="Gravity">Gravity at its end.</param>
/// <param name="At">When it was read.</param>
public sealed record ForcedTest(SpecificGravity Gravity, EventTime At);

/// <summary>What a forced fermentation test says about the dry end of its batch.</summary>
/// <remarks>
/// <b>Equation.</b> Two independent tellings of one dry end, weighed by the inverse of their variances: the usual one, and the test with an error
/// of 1.5 points (hydrometer and sensor). <b>Valid.</b> For the sugar that was in when it was drawn. It is left out, with the reason, when sugar
/// came in since, when the batch is already below it, and when it lies farther below the usual end than four spreads.
/// <b>Source.</b> Common practice, no source. <b>Check.</b> ForcedEndTests.
/// </remarks>
internal static class ForcedEnd
{
    /// <summary>Standard deviation of the dry end that a test tells, against the sensor's own scale. [points]</summary>
    public const double ErrorPoints = 1.5;

    private const double BelowPoints = 3;
    private const double FarSpreads = 4;
    private const int LastPoints = 6;

    /// <summary>What the test says, or why it says nothing; null without a test.</summary>
    public static Reason? Because(ForecastInput input, CurveData data, KindPrior kind, double originalPoints)
    {
        if (input.Forced is not { } test || test.At > input.AsOf)
        {
            return null;
        }

        var ended = new ReasonValue.Gravity(test.Gravity.Value);
        if (input.Events.Any(one => one.IsSugar && one.At > test.At && one.At <= input.AsOf))
        {
            return Reason.Of("basis-forced-test-sugar-since", ended);
        }

        if (data.Count > 0 && CurveData.Median(data.Points.AsSpan(Math.Max(0, data.Count - LastPoints))) is var level && level < test.Gravity.Points - BelowPoints)
        {
            return Reason.Of("basis-forced-test-below", ended, new ReasonValue.Gravity(1 + (level / 1000)));
        }

        return test.Gravity.Points < kind.DryEnd(originalPoints) - (FarSpreads * kind.DrySpread)
            ? Reason.Of("basis-forced-test-unlikely", ended, new ReasonValue.Gravity(1 + (kind.DryEnd(originalPoints) / 1000)))
            : Reason.Of("basis-forced-test", ended);
    }

    /// <summary>Center and spread of the dry offset, with the test where it counts.</summary>
    public static (double Center, double Spread) DryOffset(ForecastInput input, CurveData data, KindPrior kind, double originalPoints)
    {
        if (input.Forced is not { } test || Because(input, data, kind, originalPoints)?.Code != "basis-forced-test")
        {
            return (0, kind.DrySpread);
        }

        var (usual, told) = (1 / (kind.DrySpread * kind.DrySpread), 1 / (ErrorPoints * ErrorPoints));
        return (told * (test.Gravity.Points - kind.DryEnd(originalPoints)) / (usual + told), Math.Sqrt(1 / (usual + told)));
    }
}
