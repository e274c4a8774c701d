using FermentWatch.Oenology.Density;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Blending;

/// <summary>Must, wine, honey, syrup or water as what it is made of: masses add, volumes do not.</summary>
/// <remarks>
/// <para><b>Equation.</b> A liter of gravity s and strength q holds s·998.2 g, of it q·789.24 g ethanol and the extract c that Tabarié's
/// rule gives: s = s_alcohol(q) + s_extract(c) − 1. Parts are added by mass; the volume V of the sum solves the same rule with
/// q = ethanol/(789.24 V), c = extract/V and s = mass/(998.2 V).</para>
/// <para><b>Valid.</b> Up to 20 % vol with up to 200 g/L, up to 96 % vol with no extract, up to 85 % extract with no alcohol.</para>
/// <para><b>Error.</b> Volume 0.1 % within that range (contraction included, [OIMLR22]); gravity 0.0005; a honey's or dextrose's extract
/// counts as sucrose, which is 1 % off in its volume.</para>
/// <para><b>Source.</b> [OIMLR22], [Bubnik1995], [OIVAS203B]. <b>Check.</b> LiquidTests.</para>
/// </remarks>
public readonly record struct Liquid
{
    private Liquid(double mass, double ethanol, double extract)
    {
        Kilograms = mass;
        EthanolKilograms = ethanol;
        ExtractKilograms = extract;
    }

    /// <summary>Mass. [kg]</summary>
    public double Kilograms { get; }

    /// <summary>Ethanol in it. [kg]</summary>
    public double EthanolKilograms { get; }

    /// <summary>Everything dissolved, as sucrose; slightly below 0 in a liquid lighter than its alcohol makes it. [kg]</summary>
    public double ExtractKilograms { get; }

    /// <summary>A volume of must, wine or mead. [L at 20 °C]</summary>
    public static Liquid Of(Volume volume, SpecificGravity gravity, AlcoholByVolume alcohol)
    {
        var rest = gravity.Value - EthanolSolution.GravityOf(alcohol).Value.Value + 1;
        var fraction = SucrosePolynomial.MassFractionOfGravity(rest);
        var cubic = volume.Liters / 1000;
        return new(
            cubic * gravity.Value * SucrosePolynomial.WaterAt20,
            cubic * alcohol.Percent / 100 * EthanolPolynomial.EthanolAt20,
            cubic * SucrosePolynomial.GramsPerLiterAt20(fraction));
    }

    /// <summary>A volume of must or juice, without alcohol.</summary>
    public static Liquid OfMust(Volume volume, SpecificGravity gravity) => Of(volume, gravity, AlcoholByVolume.FromPercent(0));

    /// <summary>Water.</summary>
    /// <param name="kilograms">0 to 100000 kg.</param>
    /// <exception cref="ArgumentOutOfRangeException">Outside 0 to 100000 kg.</exception>
    public static Liquid Water(double kilograms) => Solids(kilograms, 0);

    /// <summary>Honey, sugar, syrup or concentrate by its mass.</summary>
    /// <param name="kilograms">0 to 100000 kg.</param>
    /// <param name="extractFraction">Grams of extract in a gram, 0 to 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">Outside these.</exception>
    public static Liquid Solids(double kilograms, double extractFraction) => new(
        QuantityRange.Require(kilograms, 0, 100_000, "mass", "kg"),
        0,
        kilograms * QuantityRange.Require(extractFraction, 0, 1, "extract", "g/g"));

    /// <summary>Everything of both.</summary>
    public static Liquid operator +(Liquid left, Liquid right) => left.And(right);

    /// <summary>Everything of both.</summary>
    public Liquid And(Liquid other) => new(
        Kilograms + other.Kilograms, EthanolKilograms + other.EthanolKilograms, ExtractKilograms + other.ExtractKilograms);

    /// <summary>This liquid in another amount.</summary>
    /// <param name="factor">0 or more.</param>
    public Liquid Times(double factor) => new(Kilograms * factor, EthanolKilograms * factor, ExtractKilograms * factor);

    /// <summary>Volume at 20 °C. [L]</summary>
    public Volume Volume => Quantities.Volume.FromLiters(Liters());

    /// <summary>Specific gravity 20/20 °C; 1 where there is nothing.</summary>
    public SpecificGravity Gravity => SpecificGravity.FromRatio(
        Kilograms > 0 ? Math.Clamp(Kilograms / (Liters() * SucrosePolynomial.WaterAt20 / 1000), SpecificGravity.Lowest, SpecificGravity.Highest) : 1);

    /// <summary>Alcoholic strength. [% vol]</summary>
    public AlcoholByVolume Alcohol => AlcoholByVolume.FromPercent(
        Kilograms > 0 ? Math.Clamp(EthanolKilograms / EthanolPolynomial.EthanolAt20 * 1e5 / Liters(), 0, 100) : 0);

    private double Liters()
    {
        if (Kilograms <= 0)
        {
            return 0;
        }

        var (low, high) = (0.0006 * Kilograms, 0.0014 * Kilograms);
        for (var i = 0; i < 70; i++)
        {
            var middle = (low + high) / 2;
            (low, high) = Excess(middle) > 0 ? (middle, high) : (low, middle);
        }

        return 500 * (low + high);
    }

    /// <summary>Gravity by mass and volume minus gravity by what is dissolved: falls as the volume grows.</summary>
    private double Excess(double cubicMeters)
    {
        var alcohol = EthanolPolynomial.MassFraction(EthanolKilograms / (EthanolPolynomial.EthanolAt20 * cubicMeters));
        var byParts = (EthanolPolynomial.KilogramsPerCubicMeterAt20(alcohol) / EthanolPolynomial.WaterAt20)
            + SucrosePolynomial.GravityOfGramsPerLiter(ExtractKilograms / cubicMeters) - 1;
        return (Kilograms / (cubicMeters * SucrosePolynomial.WaterAt20)) - byParts;
    }
}
