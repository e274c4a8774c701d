using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Acidity;

/// <summary>pH and titratable acidity of several wines in one.</summary>
public static class AcidBlend
{
    private const double MeterError = 0.05;
    private const double ShareOfDistance = 0.8;
    private const double TitrationErrorMilliequivalents = 1.5;

    /// <summary>pH and titratable acidity of a blend. [pH, meq/L]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> Acids and strong cations of the fitted buffers are averaged by volume; pH by <see cref="ChargeBalance.PhOf"/> in water
    /// with the mean alcohol, acidity up to the end point of the first part. pH itself is no mean: a well buffered part draws it to its side.</para>
    /// <para><b>Valid.</b> Parts of pH 2.5 to 4.5 with 0 to 15 % vol; outside marked. Volumes are added up, which is 0.2 % too much at most. No
    /// tartrate settles: in a blend it can, and lowers acidity and pH a little.</para>
    /// <para><b>Error.</b> pH ±(0.05 + 0.8 of the distance to the nearest part), as for <see cref="AcidBuffer.After"/>; a blend of equal parts
    /// has the meter's 0.05 alone. Acidity ±1.5 meq/L, 0.1 g/L as tartaric.</para>
    /// <para><b>Source.</b> Charge balance. <b>Check.</b> AcidBlendTests.</para>
    /// </remarks>
    /// <param name="parts">The fitted buffer and the volume of each, one or more.</param>
    /// <returns>The prediction; its change of pH is from the largest part.</returns>
    /// <exception cref="ArgumentException">No part, or none with a volume.</exception>
    public static AcidPrediction Of(params IReadOnlyList<(AcidBuffer Buffer, Volume Volume)> parts)
    {
        ArgumentNullException.ThrowIfNull(parts);
        var liters = parts.Sum(part => part.Volume.Liters);
        if (!(liters > 0))
        {
            throw new ArgumentException("A blend needs a part with a volume.", nameof(parts));
        }

        double Mean(Func<AcidBuffer, double> read) => parts.Sum(part => read(part.Buffer) * part.Volume.Liters) / liters;
        var mixture = parts.Aggregate(
            AcidMixture.Empty,
            (sum, part) => part.Buffer.Mixture.Scaled(part.Volume.Liters / liters).MolesPerLiter.Aggregate(
                sum, (all, acid) => all.Plus(acid.Key, acid.Value * acid.Key.GramsPerMole)));
        var solvent = Solvent.Of(AlcoholByVolume.FromPercent(Mean(buffer => buffer.Measured.Alcohol.Percent)));
        var ph = ChargeBalance.PhOf(mixture, Mean(buffer => buffer.NetCationMolesPerLiter), solvent);
        var acidity = Math.Min(1000, ChargeBalance.TitratableMilliequivalents(mixture, ph.Value, parts[0].Buffer.Measured.EndPh, solvent));

        var present = parts.Where(part => part.Volume.Liters > 0).ToList();
        var nearest = present.Min(part => Math.Abs(ph.Value.Value - part.Buffer.Measured.Ph.Value));
        var isWithin = ph.Validity is Validity.WithinSource && solvent.Validity is Validity.WithinSource
            && present.All(part => part.Buffer.Measured.Ph.Value is >= 2.5 and <= 4.5 && part.Buffer.Solvent.Validity is Validity.WithinSource);
        var validity = isWithin ? Validity.WithinSource : Validity.Extrapolated;
        return new(
            new(ph.Value, MeterError + (ShareOfDistance * nearest), validity),
            new(TitratableAcidity.FromMilliequivalentsPerLiter(acidity), TitrationErrorMilliequivalents, validity),
            ph.Value.Value - present.MaxBy(part => part.Volume.Liters).Buffer.Measured.Ph.Value);
    }
}
