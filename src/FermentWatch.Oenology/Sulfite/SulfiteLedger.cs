using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Sulfite;

/// <summary>One line of a ledger of sulfite, in the order in which things were done.</summary>
public abstract record SulfiteEntry
{
    private SulfiteEntry()
    {
    }

    /// <summary>Sulfite added.</summary>
    /// <param name="Addition">As total sulfur dioxide in the volume of that day.</param>
    public sealed record Added(MassConcentration Addition) : SulfiteEntry;

    /// <summary>Something without or with sulfite poured in: a top-up, a blend, water, syrup.</summary>
    /// <param name="Before">Volume before.</param>
    /// <param name="Poured">Volume poured in.</param>
    /// <param name="Total">Its total sulfur dioxide.</param>
    public sealed record ToppedUp(Volume Before, Volume Poured, MassConcentration Total) : SulfiteEntry;

    /// <summary>Total sulfur dioxide measured: counts instead of all lines before.</summary>
    /// <param name="Total">As measured.</param>
    public sealed record Measured(MassConcentration Total) : SulfiteEntry;
}

/// <summary>Total sulfur dioxide from what was added.</summary>
public static class SulfiteLedger
{
    /// <summary>What yeast itself forms, at most usually. [mg/L]</summary>
    public const double FormedByYeastMilligramsPerLiter = 30;

    /// <summary>Total sulfur dioxide today. [mg/L]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> Additions add up; a pour mixes by volume: (V·c + v·c′)/(V + v); racking and samples change no concentration.</para>
    /// <para><b>Valid.</b> Nothing lost: air takes some, so the sum is an upper bound of what was added.</para>
    /// <para><b>Error.</b> 0 to +30 mg/L for what yeast forms [ZangFranzen1966], unless a total was measured.</para>
    /// <para><b>Source.</b> Balance of mass. <b>Check.</b> SulfiteLedgerTests.</para>
    /// </remarks>
    public static Computed<MassConcentration> Total(IEnumerable<SulfiteEntry> entries)
    {
        ArgumentNullException.ThrowIfNull(entries);
        var total = 0.0;
        var tolerance = FormedByYeastMilligramsPerLiter;
        foreach (var entry in entries)
        {
            switch (entry)
            {
                case SulfiteEntry.Added added:
                    total += added.Addition.MilligramsPerLiter;
                    break;
                case SulfiteEntry.ToppedUp pour when pour.Before.Liters + pour.Poured.Liters > 0:
                    var sum = pour.Before.Liters + pour.Poured.Liters;
                    total = ((total * pour.Before.Liters) + (pour.Total.MilligramsPerLiter * pour.Poured.Liters)) / sum;
                    tolerance *= pour.Before.Liters / sum;
                    break;
                case SulfiteEntry.Measured measured:
                    (total, tolerance) = (measured.Total.MilligramsPerLiter, 10);
                    break;
            }
        }

        return new(MassConcentration.FromMilligramsPerLiter(total), tolerance, Validity.WithinSource);
    }
}
