using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Service.Dashboard.Pictures;

namespace FermentWatch.Service.Dashboard.Words;

/// <summary>A figure of today with where it comes from.</summary>
internal readonly record struct TodayRow(string Figure, string Value, string From);

/// <summary>The figures of a batch as a table shows them.</summary>
internal static class TodayRows
{
    public static IEnumerable<TodayRow> Of(BatchView view, Reader reader)
    {
        if (view.LatestGravity is { } gravity)
        {
            yield return new(PageText.Of("fact-gravity"), reader.Gravity(gravity.Value), PageText.Of("from-sensor", reader.Moment(gravity.At)));
        }

        if (view.OriginalGravity is { } original)
        {
            var told = view.Batch.OriginalGravity is not null;
            yield return new(
                PageText.Of("fact-original-gravity"),
                reader.Gravity(original.Value),
                PageText.Of(told ? "from-told" : "from-readings", PlusMinus(reader.GravityDifference(original.Tolerance))));
        }

        if (view.SugarLeft is { } sugar)
        {
            yield return sugar.Value.GramsPerLiter < CurveScale.TooLittleToTell(view)
                ? new(PageText.Of("fact-sugar"), PageText.Of("unknown"), PageText.Of("sugar-too-little"))
                : new(PageText.Of("fact-sugar"), Figures.GramsPerLiter(sugar.Value.GramsPerLiter), Computed(Figures.WholeTolerance(sugar.Tolerance), sugar.Validity));
        }

        if (view.Alcohol is { } alcohol)
        {
            var tolerance = PlusMinus(reader.Number(alcohol.Tolerance, "0.0"));
            yield return new(PageText.Of("fact-alcohol"), reader.Alcohol(alcohol.Value.Percent), Computed(tolerance, alcohol.Validity));
        }

        if (view.Phase.RatePerDay is { } rate && view.Phase.Phase is Phase.Active or Phase.Slowing)
        {
            yield return new(
                PageText.Of("fact-fall"),
                PageText.Of("rate", reader.Fall(rate)),
                reader.GravitySign.Length == 0 ? PageText.Of("from-curve-points", reader.Number(0.001, "F3")) : PageText.Of("from-curve"));
        }

        if (view.LatestTemperature is { } warmth)
        {
            yield return new(PageText.Of("fact-temperature"), reader.Degrees(warmth.Value.Celsius), PageText.Of("from-sensor", reader.Moment(warmth.At)));
        }

        if (view.Batch.Tolerance is { } tolerated)
        {
            yield return new(PageText.Of("fact-tolerance"), reader.Alcohol(tolerated.Percent), PageText.Of("from-packet"));
        }
    }

    /// <summary>Where a sensor sits, in words.</summary>
    public static string PlacementWords(Placement placement) => PageText.Of(placement switch
    {
        Placement.InLiquid => "placement-liquid",
        Placement.InsulatedOnGlass => "placement-insulated",
        Placement.BareGlass => "placement-glass",
        _ => "placement-room",
    });

    /// <summary>What a sensor measures, in words.</summary>
    public static string QuantityWords(QuantityKind quantity) => PageText.Of(quantity switch
    {
        QuantityKind.Gravity => "quantity-gravity",
        QuantityKind.Temperature => "quantity-temperature",
        QuantityKind.GasPulses => "quantity-gas-pulses",
        QuantityKind.Acidity => "quantity-acidity",
        QuantityKind.Pressure => "quantity-pressure",
        QuantityKind.Battery => "quantity-battery",
        QuantityKind.Signal => "quantity-signal",
        QuantityKind.Inclination => "quantity-inclination",
        QuantityKind.VesselMass => "quantity-vessel-mass",
        _ => "quantity-room-carbon-dioxide",
    });

    private static string Computed(string tolerance, Validity validity) =>
        PageText.Of(validity == Validity.WithinSource ? "from-computed" : "from-extrapolated", tolerance);

    private static string PlusMinus(string value) => "±" + Figures.NoBreak + value;
}
