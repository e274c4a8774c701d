using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.BenchTrials;

/// <summary>The arithmetic of doses: stock into a glass, additive into a batch, with the volume that the addition itself brings.</summary>
/// <remarks>Computed as mass balances by volume. <b>Check.</b> DoseArithmeticTests, against [BenchExamples].</remarks>
public static class DoseArithmetic
{
    /// <summary>Milliliters that a gram of dissolved sugar takes up in wine. [mL/g]</summary>
    /// <remarks>0.615 to 0.624 in water by [Bubnik1995]; right to 1 % in water, an assumption in wine.</remarks>
    public const double SugarMillilitersPerGram = 0.62;

    /// <summary>Grams of ethanol in a milliliter. [g/mL] [OIMLR22] rounded.</summary>
    public const double EthanolGramsPerMilliliter = 0.78924;

    /// <summary>Concentration in the glass after adding stock. [g/L]</summary>
    /// <remarks><b>Equation.</b> c·v/(V + v).</remarks>
    public static double GlassConcentration(double stockGramsPerLiter, double addedMilliliters, double sampleMilliliters) =>
        stockGramsPerLiter * addedMilliliters / (sampleMilliliters + addedMilliliters);

    /// <summary>Stock for an exact concentration in the glass. [mL]</summary>
    /// <remarks><b>Equation.</b> t·V/(c − t). The usual rule t·V/c falls short by t/c.</remarks>
    /// <exception cref="ArgumentOutOfRangeException">The target is not below the stock's concentration.</exception>
    public static double StockMilliliters(double stockGramsPerLiter, double targetGramsPerLiter, double sampleMilliliters)
    {
        QuantityRange.Require(stockGramsPerLiter - targetGramsPerLiter, double.Epsilon, double.MaxValue, "stock above target", "g/L");
        return targetGramsPerLiter * sampleMilliliters / (stockGramsPerLiter - targetGramsPerLiter);
    }

    /// <summary>Share of the glass that is stock and not wine. 0 to 1.</summary>
    public static double Dilution(double addedMilliliters, double sampleMilliliters) => addedMilliliters / (sampleMilliliters + addedMilliliters);

    /// <summary>Additive for a batch, with the volume that it brings itself. [g]</summary>
    /// <remarks><b>Equation.</b> x = V·(c₁ − c₀)/(1 − v·c₁), v in L/g.</remarks>
    /// <exception cref="ArgumentOutOfRangeException">The additive alone would fill the batch.</exception>
    public static double BatchGrams(double fromGramsPerLiter, double toGramsPerLiter, double batchLiters, double millilitersPerGram)
    {
        var wine = QuantityRange.Require(1 - (millilitersPerGram * toGramsPerLiter / 1000), 0.05, 1, "share of wine after the addition", "(share)");
        return batchLiters * (toGramsPerLiter - fromGramsPerLiter) / wine;
    }

    /// <summary>Volume of the batch after an addition. [L]</summary>
    public static double BatchLitersAfter(double batchLiters, double grams, double millilitersPerGram) => batchLiters + (grams * millilitersPerGram / 1000);

    /// <summary>Concentration that an amount gives in a batch. [g/L]</summary>
    /// <remarks>The inverse of <see cref="BatchGrams"/> from none: x/(V + v·x).</remarks>
    public static double AchievedGramsPerLiter(double grams, double batchLiters, double millilitersPerGram) =>
        grams / BatchLitersAfter(batchLiters, grams, millilitersPerGram);

    /// <summary>Liquid product that holds a mass of its active part, such as lactic acid at 88 %. [mL]</summary>
    /// <remarks><b>Equation.</b> m/(ρ·w); strength and density from the label.</remarks>
    public static double LiquidMilliliters(double activeGrams, double gramsPerMilliliter, double massFraction) => activeGrams / (gramsPerMilliliter * massFraction);

    /// <summary>Ethanol in what is poured. [g]</summary>
    /// <remarks><b>Equation.</b> glasses · pour · ABV/100 · 0.789 24 g/mL.</remarks>
    public static double EthanolGrams(double glasses, double pourMilliliters, double alcoholPercent) =>
        glasses * pourMilliliters * alcoholPercent / 100 * EthanolGramsPerMilliliter;

    /// <summary>How well a batch must be measured for an error of the dose. [L]</summary>
    public static double BatchErrorLiters(double batchLiters, double shareOfDose) => batchLiters * shareOfDose;
}
