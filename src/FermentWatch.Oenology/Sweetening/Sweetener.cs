using FermentWatch.Oenology.Blending;
using FermentWatch.Oenology.Density;
using FermentWatch.Oenology.Must;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Sweetening;

/// <summary>A sweetener by what a gram of it brings.</summary>
public sealed record Sweetener
{
    private Sweetener(SweetenerKind kind, double extract, double sugar, double? density)
    {
        Kind = kind;
        ExtractFraction = extract;
        SugarFraction = sugar;
        KilogramsPerLiter = density;
    }

    /// <summary>Which one.</summary>
    public SweetenerKind Kind { get; }

    /// <summary>Everything dissolved in a gram, counted as sucrose in gravity. [g/g]</summary>
    public double ExtractFraction { get; }

    /// <summary>Sugar in a gram. [g/g]</summary>
    public double SugarFraction { get; }

    /// <summary>Its density where it is a liquid, null for a powder. [kg/L]</summary>
    public double? KilogramsPerLiter { get; }

    /// <summary>A sweetener of a kind.</summary>
    /// <param name="kind">Which one.</param>
    /// <param name="waterPercent">Water of honey, 5 to 40 %; used for honey alone.</param>
    /// <param name="brix">Of concentrate, juice or syrup, 1 to 85 °Bx; used for these alone.</param>
    /// <remarks>
    /// <para><b>Values.</b> Sucrose 1; dextrose 1, its monohydrate 0.9091 g/g (180.156/198.171); brown sugar 0.97 sugar and 0.987 dry matter
    /// (from memory; at least 0.88 by [Codex212]); honey 1 − water dry matter, of it 0.99 sugar (82.12 of 82.90, [USDAHoney]);
    /// concentrate and syrup °Brix/100, of a juice's 0.95 sugar (from memory: the rest is acid and minerals).</para>
    /// <para><b>Error.</b> 1 % of the sugar, 3 % for brown sugar and honey, 5 % for juice: measure the gravity after mixing.</para>
    /// <para><b>Check.</b> SweeteningTests, MustPlanTests.</para>
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">Water or °Brix outside these, or no kind.</exception>
    public static Sweetener Of(SweetenerKind kind, double waterPercent = Honey.UsualWaterPercent, double brix = 68) => kind switch
    {
        SweetenerKind.Sucrose or SweetenerKind.Dextrose => new(kind, 1, 1, null),
        SweetenerKind.DextroseMonohydrate => new(kind, 180.156 / 198.171, 180.156 / 198.171, null),
        SweetenerKind.BrownSugar => new(kind, 0.987, 0.97, null),
        SweetenerKind.Honey => OfHoney(waterPercent),
        SweetenerKind.Concentrate => OfBrix(kind, brix, 0.95),
        SweetenerKind.Syrup => OfBrix(kind, brix, 1),
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "No such sweetener."),
    };

    /// <summary>Stated error of the sugar that it brings. Dimensionless.</summary>
    public double RelativeTolerance => Kind switch
    {
        SweetenerKind.BrownSugar or SweetenerKind.Honey => 0.03,
        SweetenerKind.Concentrate => 0.05,
        _ => 0.01,
    };

    /// <summary>So much of it, ready to be blended.</summary>
    /// <param name="kilograms">0 to 100000 kg.</param>
    public Liquid Amount(double kilograms) => Liquid.Solids(kilograms, ExtractFraction);

    private static Sweetener OfHoney(double waterPercent)
    {
        var dry = 1 - (QuantityRange.Require(waterPercent, 5, 40, "water of honey", "%") / 100);
        return new(SweetenerKind.Honey, dry, dry * 82.12 / 82.90, Honey.GravityOf(waterPercent).Value.Value * Water.KilogramsPerCubicMeterAt20Celsius / 1000);
    }

    private static Sweetener OfBrix(SweetenerKind kind, double brix, double purity)
    {
        var fraction = QuantityRange.Require(brix, 1, 85, "extract", "°Bx") / 100;
        return new(kind, fraction, fraction * purity, SucrosePolynomial.GravityAt20(fraction) * SucrosePolynomial.WaterAt20 / 1000);
    }
}
