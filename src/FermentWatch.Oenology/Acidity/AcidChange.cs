using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Acidity;

/// <summary>What is done to the acid of a batch, reckoned on a liter after dilution. Changes join with <see cref="And"/>.</summary>
public sealed record AcidChange
{
    /// <summary>Nothing.</summary>
    public static AcidChange None { get; } = new();

    /// <summary>Acid added, pure and free of water.</summary>
    public AcidMixture Added { get; init; } = AcidMixture.Empty;

    /// <summary>Strong cations added, by carbonates. [mol/L]</summary>
    public double CationMolesPerLiter { get; init; }

    /// <summary>Potassium bitartrate that settles out: takes as much tartaric acid as potassium. [mol/L]</summary>
    public double BitartrateMolesPerLiter { get; init; }

    /// <summary>Calcium tartrate that settles out: takes tartaric acid and two cations for each. [mol/L]</summary>
    public double CalciumTartrateMolesPerLiter { get; init; }

    /// <summary>Malic acid turned into lactic acid by bacteria; at most what is there. [g/L]</summary>
    public double MalicConvertedGramsPerLiter { get; init; }

    /// <summary>Liters before over liters after, by water without acid; 1 for none.</summary>
    public double Dilution { get; init; } = 1;

    /// <summary>Addition of one acid.</summary>
    public static AcidChange Addition(WeakAcid acid, MassConcentration added) => new() { Added = AcidMixture.OfGramsPerLiter((acid, added.GramsPerLiter)) };

    /// <summary>Dilution with water.</summary>
    /// <param name="factor">Liters before over liters after, above 0 up to 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">Outside that range.</exception>
    public static AcidChange DilutionBy(double factor)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(factor);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(factor, 1);
        return new() { Dilution = factor };
    }

    /// <summary>Malolactic conversion.</summary>
    /// <param name="malic">Malic acid converted; at most what the fitted mixture holds counts.</param>
    public static AcidChange Malolactic(MassConcentration malic) => new() { MalicConvertedGramsPerLiter = malic.GramsPerLiter };

    /// <summary>Both changes: dilutions multiply, the rest adds up.</summary>
    public AcidChange And(AcidChange other)
    {
        ArgumentNullException.ThrowIfNull(other);
        return new()
        {
            Added = other.Added.MolesPerLiter.Aggregate(Added, (sum, part) => sum.Plus(part.Key, part.Value * part.Key.GramsPerMole)),
            CationMolesPerLiter = CationMolesPerLiter + other.CationMolesPerLiter,
            BitartrateMolesPerLiter = BitartrateMolesPerLiter + other.BitartrateMolesPerLiter,
            CalciumTartrateMolesPerLiter = CalciumTartrateMolesPerLiter + other.CalciumTartrateMolesPerLiter,
            MalicConvertedGramsPerLiter = MalicConvertedGramsPerLiter + other.MalicConvertedGramsPerLiter,
            Dilution = Dilution * other.Dilution,
        };
    }
}
