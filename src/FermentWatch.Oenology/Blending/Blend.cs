namespace FermentWatch.Oenology.Blending;

/// <summary>A wine with what is dissolved in it by volume.</summary>
/// <param name="Liquid">Water, alcohol and extract.</param>
/// <param name="TitratableAcidity">As tartaric acid. [g/L]</param>
/// <param name="FreeSulfite">Free sulfur dioxide. [mg/L]</param>
/// <param name="TotalSulfite">Total sulfur dioxide. [mg/L]</param>
/// <param name="SugarGramsPerLiter">Measured sugar. [g/L]</param>
public readonly record struct BlendPart(Liquid Liquid, double TitratableAcidity = 0, double FreeSulfite = 0, double TotalSulfite = 0, double SugarGramsPerLiter = 0);

/// <summary>Several wines in one.</summary>
public static class Blend
{
    /// <summary>What the parts make together: alcohol by mass with contraction, the rest by what was dissolved over the new volume.</summary>
    /// <remarks>
    /// <para><b>Equation.</b> Masses by <see cref="Liquid"/>; c = Σ cᵢVᵢ / V. Free sulfite may bind anew: measure it. pH is no mean:
    /// <see cref="Acidity.AcidBlend"/>.</para>
    /// <para><b>Valid.</b> One part or more, each with a volume. <b>Error.</b> alcohol 0.05 % vol, gravity 0.0005 beyond that of the parts.</para>
    /// <para><b>Source.</b> balance of mass; [OIMLR22]. <b>Check.</b> BlendTests, SweeteningTests, WorksheetCatalogTests.</para>
    /// </remarks>
    /// <exception cref="ArgumentException">No part, or none with a mass.</exception>
    public static BlendPart Of(params IReadOnlyList<BlendPart> parts)
    {
        ArgumentNullException.ThrowIfNull(parts);
        var sum = parts.Aggregate(default(Liquid), (all, part) => all + part.Liquid);
        if (sum.Kilograms <= 0)
        {
            throw new ArgumentException("A blend needs a part with a volume.", nameof(parts));
        }

        var volumes = parts.Select(part => part.Liquid.Volume.Liters).ToList();
        var liters = sum.Volume.Liters;
        return new(sum, Mean(part => part.TitratableAcidity), Mean(part => part.FreeSulfite), Mean(part => part.TotalSulfite), Mean(part => part.SugarGramsPerLiter));

        double Mean(Func<BlendPart, double> read) => parts.Select((part, place) => read(part) * volumes[place]).Sum() / liters;
    }
}
