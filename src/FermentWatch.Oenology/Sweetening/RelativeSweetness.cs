namespace FermentWatch.Oenology.Sweetening;

/// <summary>How sweet a gram tastes beside a gram of sucrose: a range, for the eye and never for a computation of what can ferment.</summary>
/// <param name="Least">At the least, sucrose 1.</param>
/// <param name="Most">At the most.</param>
/// <remarks>
/// <para><b>Values.</b> Fructose 1.2 to 1.8, glucose 0.6 to 0.75, maltose 0.3 to 0.5, lactose 0.16 to 0.3. They bend with strength, temperature,
/// acid and alcohol. <b>Source.</b> Ranges from memory; that sweetness grows by a power of about 1.3 of the concentration: [Moskowitz1970], abstract.
/// <b>Check.</b> RelativeSweetnessTests.</para>
/// </remarks>
public readonly record struct RelativeSweetness(double Least, double Most)
{
    /// <summary>Power by which sweetness grows with the concentration.</summary>
    public const double Power = 1.3;

    /// <summary>Table sugar, by definition.</summary>
    public static RelativeSweetness Sucrose { get; } = new(1, 1);

    /// <summary>Fruit sugar; about half of honey's sugar.</summary>
    public static RelativeSweetness Fructose { get; } = new(1.2, 1.8);

    /// <summary>Dextrose without water.</summary>
    public static RelativeSweetness Glucose { get; } = new(0.6, 0.75);

    /// <summary>Malt sugar.</summary>
    public static RelativeSweetness Maltose { get; } = new(0.3, 0.5);

    /// <summary>Milk sugar.</summary>
    public static RelativeSweetness Lactose { get; } = new(0.16, 0.3);

    /// <summary>How many times as sweet it tastes when the sugar is so many times as much.</summary>
    /// <param name="ratio">Concentration over concentration, 0 to 1000.</param>
    /// <remarks>ratio^1.3, error 0.2 of the power [Moskowitz1970].</remarks>
    /// <exception cref="ArgumentOutOfRangeException">Outside 0 to 1000.</exception>
    public static double OfConcentrationRatio(double ratio) => Math.Pow(Quantities.QuantityRange.Require(ratio, 0, 1000, "ratio", string.Empty), Power);
}
