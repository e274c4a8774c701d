using FermentWatch.Oenology.Density;

namespace FermentWatch.Oenology.Alcohol;

/// <summary>The one-unknown equation inside <see cref="MassBalance"/>: grams of ethanol formed from 100 g of must.</summary>
internal readonly struct BallingBalance(double extractPercent, double gravity)
{
    private const double ExtractPerEthanol = 2.0665;
    private const double MassLostPerEthanol = 1.0665;

    /// <summary>The extract may come out this far below nothing before the gravities are called impossible. [g of 100 g]</summary>
    private const double NegativeExtractAllowed = 6;

    private const double MostEthanol = 45;
    private const double RoundingNoise = 1e-13;

    /// <summary>Volume of ethanol in a volume of the liquid.</summary>
    public double VolumeFraction(double ethanol) =>
        ethanol / MassLeft(ethanol) * gravity * EthanolPolynomial.WaterAt20 / EthanolPolynomial.EthanolAt20;

    /// <summary>Extract in a liter of the liquid. [g/L]</summary>
    public double ExtractGramsPerLiter(double ethanol) =>
        (extractPercent - (ExtractPerEthanol * ethanol)) / MassLeft(ethanol) * gravity * SucrosePolynomial.WaterAt20;

    /// <summary>Finds the ethanol at which the model has the present gravity; false where none does, with the nearer end.</summary>
    public bool TrySolve(out double ethanol)
    {
        var low = 0.0;
        var high = Math.Min((extractPercent + NegativeExtractAllowed) / ExtractPerEthanol, MostEthanol);
        var atLow = Excess(low);
        var atHigh = high > 0 ? Excess(high) : atLow;
        if (atLow <= 0 || atHigh >= 0)
        {
            ethanol = atLow <= 0 ? low : Math.Max(high, low);
            return Math.Abs(atLow) < RoundingNoise;
        }

        // False position that halves the value of an end kept twice: the function is nearly straight, so a few turns do.
        var keptLow = false;
        var keptHigh = false;
        for (var i = 0; i < 100; i++)
        {
            ethanol = low + ((high - low) * atLow / (atLow - atHigh));
            var excess = Excess(ethanol);
            if (Math.Abs(excess) < RoundingNoise)
            {
                return true;
            }

            if (excess > 0)
            {
                (low, atLow) = (ethanol, excess);
                atHigh *= keptHigh ? 0.5 : 1;
                (keptLow, keptHigh) = (false, true);
            }
            else
            {
                (high, atHigh) = (ethanol, excess);
                atLow *= keptLow ? 0.5 : 1;
                (keptLow, keptHigh) = (true, false);
            }
        }

        ethanol = 0.5 * (low + high);
        return true;
    }

    private static double MassLeft(double ethanol) => 100 - (MassLostPerEthanol * ethanol);

    /// <summary>Model gravity minus present gravity: falls as ethanol rises.</summary>
    private double Excess(double ethanol)
    {
        var massFraction = EthanolPolynomial.MassFraction(VolumeFraction(ethanol));
        var alcoholGravity = EthanolPolynomial.KilogramsPerCubicMeterAt20(massFraction) / EthanolPolynomial.WaterAt20;
        return alcoholGravity + SucrosePolynomial.GravityOfGramsPerLiter(ExtractGramsPerLiter(ethanol)) - 1 - gravity;
    }
}
