namespace FermentWatch.Oenology.Must;

/// <summary>Extract that juice of a fruit usually has: a first guess until it is measured.</summary>
/// <param name="Code">Name of the fruit in commands.</param>
/// <param name="Brix">Extract of single-strength juice. [°Bx]</param>
/// <remarks>
/// <para><b>Values.</b> Reference strengths of 100 % juice in trade. <b>Error.</b> Real fruit differs by 20 to 30 %: measure it. <b>Source.</b>
/// [CFR101.30] from memory; the section was found, its table not read again. Lemon and lime are told there by their acid, 4.5 %, see
/// <see cref="Acidity.AcidSupply.LemonJuice"/>. <b>Check.</b> JuiceStrengthTests.</para>
/// </remarks>
public sealed record JuiceStrength(string Code, double Brix)
{
    /// <summary>How far real fruit strays, as a share.</summary>
    public const double RelativeError = 0.3;

    /// <summary>Every fruit, by name.</summary>
    public static IReadOnlyList<JuiceStrength> All { get; } =
    [
        new("apple", 11.5),
        new("apricot", 11.7),
        new("black-currant", 11.0),
        new("blackberry", 10.0),
        new("blueberry", 10.0),
        new("cranberry", 7.5),
        new("elderberry", 11.0),
        new("gooseberry", 8.3),
        new("grape", 16.0),
        new("grapefruit", 10.0),
        new("mango", 13.0),
        new("orange", 11.8),
        new("peach", 10.5),
        new("pear", 12.0),
        new("pineapple", 12.8),
        new("plum", 14.3),
        new("pomegranate", 16.0),
        new("quince", 13.3),
        new("raspberry", 9.2),
        new("red-currant", 10.5),
        new("rhubarb", 5.7),
        new("sour-cherry", 14.0),
        new("strawberry", 8.0),
        new("sweet-cherry", 20.0),
    ];
}
