using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Tasting;

/// <summary>How sour a wine tastes, from what can be measured.</summary>
public static class AcidTaste
{
    /// <summary>Acid taste index: titratable acidity as tartaric in g/L less pH. Dimensionless; 2 to 3 is usual for dry reds, more for whites.</summary>
    /// <remarks><b>Equation.</b> TA − pH. <b>Valid.</b> pH 2.6 to 4.0, to compare glasses of one wine. <b>Source.</b> [Plane1980] (abstract); the
    /// usual values are from memory. <b>Check.</b> ThresholdTableTests.</remarks>
    /// <exception cref="ArgumentOutOfRangeException">pH outside 2.6 to 4.0 or acidity outside 0 to 30 g/L.</exception>
    public static double Index(double titratableAcidityGramsPerLiter, double ph)
    {
        QuantityRange.Require(titratableAcidityGramsPerLiter, 0, 30, "titratable acidity", "g/L");
        QuantityRange.Require(ph, 2.6, 4.0, "pH", string.Empty);
        return titratableAcidityGramsPerLiter - ph;
    }
}
