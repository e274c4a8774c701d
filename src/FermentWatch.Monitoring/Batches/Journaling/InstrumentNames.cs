using FermentWatch.Oenology.Density;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Monitoring.Batches.Journaling;

/// <summary>What gravity is measured with by hand, and how its reading becomes a gravity 20/20 °C.</summary>
public static class InstrumentNames
{
    /// <summary>A hydrometer calibrated at 20 °C.</summary>
    public const string Hydrometer20 = "hydrometer-20";

    /// <summary>A hydrometer calibrated at 15.56 °C (60 °F).</summary>
    public const string Hydrometer60F = "hydrometer-60f";

    /// <summary>A hydrometer calibrated at 15 °C.</summary>
    public const string Hydrometer15 = "hydrometer-15";

    /// <summary>A meter that shows gravity 20/20 °C, whatever the sample's temperature.</summary>
    public const string DensityMeter = "density-meter";

    /// <summary>All names; the first is the usual one.</summary>
    public static IReadOnlyList<string> All { get; } = [Hydrometer20, Hydrometer60F, Hydrometer15, DensityMeter];

    /// <summary>The gravity 20/20 °C of what an instrument showed in a sample.</summary>
    /// <param name="reading">What it showed.</param>
    /// <param name="sample">Temperature of the sample; null leaves the reading as it is.</param>
    /// <param name="instrument">A name of <see cref="All"/>; null for the usual one.</param>
    public static SpecificGravity Gravity(SpecificGravity reading, Temperature? sample, string? instrument)
    {
        double? calibration = instrument switch
        {
            DensityMeter => null,
            Hydrometer60F => 15.56,
            Hydrometer15 => 15,
            _ => 20,
        };
        return sample is { } warmth && calibration is { } celsius
            ? Hydrometer.GravityOf(reading, Temperature.FromCelsius(celsius), warmth).Value
            : reading;
    }
}
