using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Bottling;

/// <summary>Alcohol as a law has it printed.</summary>
/// <param name="Percent">The figure. [% vol]</param>
/// <param name="TolerancePercent">How far the true strength may be from it. [% vol]</param>
public readonly record struct AlcoholOnLabel(double Percent, double TolerancePercent)
{
    /// <summary>Rounds a strength as a law wants it. [% vol]</summary>
    /// <remarks>
    /// <para><b>Rule.</b> European Union and OIV: whole or half percent, within 0.5 % vol of what is found. United States: to a tenth, within
    /// 1.5 % vol up to 14 %, within 1 above; the printed figure may not cross 14 %. None chosen: half percent and 0.5, the strictest.
    /// All from memory: ask your local law.</para>
    /// <para><b>Error.</b> An estimate from gravity is ±0.5 % vol at best, so it can break a tolerance of 0.5: the text says so.</para>
    /// <para><b>Check.</b> AlcoholOnLabelTests.</para>
    /// </remarks>
    public static AlcoholOnLabel Of(AlcoholByVolume alcohol, Law law)
    {
        if (law is not Law.Us)
        {
            return new(Math.Round(2 * alcohol.Percent, MidpointRounding.AwayFromZero) / 2, 0.5);
        }

        var tenth = Math.Round(alcohol.Percent, 1, MidpointRounding.AwayFromZero);
        return alcohol.Percent > 14 ? new(Math.Max(tenth, 14.1), 1) : new(Math.Min(tenth, 14), 1.5);
    }
}
