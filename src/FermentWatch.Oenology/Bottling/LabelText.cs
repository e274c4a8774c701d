using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Sulfite;
using FermentWatch.Oenology.Worksheets;

namespace FermentWatch.Oenology.Bottling;

/// <summary>What a label must tell.</summary>
public sealed record LabelFacts
{
    /// <summary>Alcohol.</summary>
    public required AlcoholByVolume Alcohol { get; init; }

    /// <summary>Whose rounding.</summary>
    public required Limits.Law Law { get; init; }

    /// <summary>Content of the bottle. [mL]</summary>
    public required double Milliliters { get; init; }

    /// <summary>Total sulfite; null when it is not known.</summary>
    public required MassConcentration? TotalSulfite { get; init; }

    /// <summary>Egg white was used.</summary>
    public bool Egg { get; init; }

    /// <summary>Casein or milk was used.</summary>
    public bool Milk { get; init; }

    /// <summary>Isinglass or another fining of fish was used.</summary>
    public bool Fish { get; init; }

    /// <summary>Honey is in it.</summary>
    public bool Honey { get; init; }
}

/// <summary>Writes the text of a label for a home bottle.</summary>
public static class LabelText
{
    /// <summary>The lines, in the order in which they are printed.</summary>
    /// <remarks>
    /// <para><b>Rule.</b> Alcohol by <see cref="AlcoholOnLabel"/>; 'contains sulfites' from 10 mg/L, and also when the total is not known, since
    /// yeast alone may form as much; egg, milk and fish of finings by name. Home wine is not for sale.</para>
    /// <para><b>Source.</b> [CFR4.22] (4.32(e)) for the sulfites in the United States; European Union from memory. <b>Check.</b> LabelTextTests.</para>
    /// </remarks>
    public static IReadOnlyList<Phrase> Words(LabelFacts facts)
    {
        ArgumentNullException.ThrowIfNull(facts);
        var alcohol = AlcoholOnLabel.Of(facts.Alcohol, facts.Law);
        var lines = new List<Phrase>
        {
            $"{new Amount(alcohol.Percent, "% vol"):0.0}",
            $"{new Amount(facts.Milliliters, "mL", QuantityKind.SmallVolume):0.#}",
        };
        if (facts.TotalSulfite is not { } total || SulfiteLimits.NeedsLabel(total))
        {
            lines.Add("Contains sulfites");
        }

        var finings = new[] { (facts.Egg, "egg"), (facts.Milk, "milk"), (facts.Fish, "fish") }.Where(one => one.Item1).Select(one => one.Item2).ToList();
        if (finings.Count > 0)
        {
            lines.Add($"Contains {Phrase.Joined(", ", finings.Select(Phrase.FromString))}");
        }

        if (facts.Honey)
        {
            lines.Add("Made from honey: not for infants");
        }

        lines.Add("Home-made. Not for sale");
        return lines;
    }

    /// <summary>The same lines in English.</summary>
    public static IReadOnlyList<string> Lines(LabelFacts facts) => [.. Words(facts).Select(line => line.ToString())];
}
