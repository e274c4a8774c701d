using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Bottling;

/// <summary>How a volume comes out in bottles.</summary>
/// <param name="FullBottles">Bottles that are filled.</param>
/// <param name="LastMilliliters">What is left for a last bottle that is not full; 0 when nothing is. [mL]</param>
/// <param name="Lost">What stays in vessel, hose and filter.</param>
/// <param name="HeadspaceRatio">Gas above the wine over the wine, in a full bottle.</param>
public readonly record struct BottleFill(int FullBottles, double LastMilliliters, Volume Lost, double HeadspaceRatio)
{
    /// <summary>Less than this is no last bottle. [mL]</summary>
    public const double LeastMilliliters = 1;

    /// <summary>Bottles, the last part bottle and what is lost.</summary>
    /// <remarks>
    /// <para><b>Equation.</b> Left = V · (1 − loss); full = ⌊left / fill⌋; last = left − full · fill. Headspace ratio = headspace / fill.</para>
    /// <para><b>Valid.</b> Every volume. <b>Error.</b> That of the volume and of the loss. <b>Source.</b> Arithmetic. <b>Check.</b> BottleFillTests.</para>
    /// </remarks>
    /// <param name="volume">Volume today.</param>
    /// <param name="lossShare">Share that is lost, from 0 to below 1.</param>
    /// <param name="fillMilliliters">Wine in a full bottle. [mL]</param>
    /// <param name="headspaceMilliliters">Gas between wine and closure. [mL]</param>
    /// <exception cref="ArgumentOutOfRangeException">A share outside 0 to 1, no fill, or a negative headspace.</exception>
    public static BottleFill Of(Volume volume, double lossShare, double fillMilliliters, double headspaceMilliliters)
    {
        if (lossShare is not (>= 0 and < 1))
        {
            throw new ArgumentOutOfRangeException(nameof(lossShare), lossShare, "The share that is lost must be from 0 to below 1.");
        }

        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(fillMilliliters);
        ArgumentOutOfRangeException.ThrowIfNegative(headspaceMilliliters);
        var left = 1000 * volume.Liters * (1 - lossShare);
        // A volume that is a whole number of bottles must not lose one by rounding.
        var full = (int)Math.Floor((left / fillMilliliters) + 1e-9);
        var last = left - (full * fillMilliliters);
        return new(full, last < LeastMilliliters ? 0 : last, Volume.FromLiters(volume.Liters * lossShare), headspaceMilliliters / fillMilliliters);
    }
}
