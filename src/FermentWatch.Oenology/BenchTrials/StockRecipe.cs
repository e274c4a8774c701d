using System.Text.Json.Serialization;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.BenchTrials;

/// <summary>A stock solution as it is weighed out, and what it then holds.</summary>
/// <param name="AdditiveCode">What is dissolved.</param>
/// <param name="Liquid">In what.</param>
/// <param name="ProductGrams">Product to weigh. [g]</param>
/// <param name="ProductScale">On which scale.</param>
/// <param name="LiquidGrams">Liquid to weigh. [g]</param>
/// <param name="LiquidScale">On which scale.</param>
/// <param name="ActiveMassFraction">Active part in the stock, from the rounded amounts. [g/g]</param>
/// <param name="ProductMassFraction">Product in the stock, from the rounded amounts. [g/g]</param>
/// <param name="GramsPerMilliliter">Its density, estimated from the parts. [g/mL]</param>
public sealed record StockRecipe(
    string AdditiveCode,
    StockLiquid Liquid,
    RoundedAmount ProductGrams,
    string ProductScale,
    RoundedAmount LiquidGrams,
    string LiquidScale,
    double ActiveMassFraction,
    double ProductMassFraction,
    double GramsPerMilliliter)
{
    /// <summary>Active part in a liter of stock. [g/L]</summary>
    [JsonIgnore]
    public double ActiveGramsPerLiter => 1000 * ActiveMassFraction * GramsPerMilliliter;

    /// <summary>Stock that is made. [mL]</summary>
    [JsonIgnore]
    public double Milliliters => (ProductGrams.Taken + LiquidGrams.Taken) / GramsPerMilliliter;

    /// <summary>Stock that holds a dose for a glass. [g]</summary>
    /// <remarks><b>Equation.</b> dose·T/1000/w, T the finished glass in mL, w the active mass fraction.</remarks>
    public double GramsFor(double doseGramsPerLiter, double glassMilliliters) => doseGramsPerLiter * glassMilliliters / 1000 / ActiveMassFraction;

    internal static double Density(double productMassFraction, double liquidGramsPerMilliliter, double millilitersPerGram)
    {
        QuantityRange.Require(productMassFraction, 0, 1, "mass fraction of product in the stock", "g/g");
        return 1 / (((1 - productMassFraction) / liquidGramsPerMilliliter) + (productMassFraction * millilitersPerGram));
    }
}
