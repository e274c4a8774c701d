using System.Collections.Immutable;
using System.Text.Json.Serialization;

namespace FermentWatch.Oenology.BenchTrials;

/// <summary>How stock gets into a glass.</summary>
[JsonConverter(typeof(JsonStringEnumConverter<DosingMethod>))]
public enum DosingMethod
{
    /// <summary>The filled syringe is weighed before and after. Errs by the scale only; the usual way.</summary>
    WeighedByDifference,

    /// <summary>The marks of the syringe are read.</summary>
    SyringeReading,
}

/// <summary>What the maker measures with.</summary>
/// <param name="Scales">Scales, one or more.</param>
/// <param name="Syringe">The syringe that stock is dosed with.</param>
/// <param name="Method">How stock gets into a glass.</param>
/// <param name="Tolerance">Allowed error of a step of the trial, as a share: 0.05 unless told otherwise (a choice of this product).</param>
/// <param name="CylinderDivisionMilliliters">Marks of what the wine is measured with. [mL]</param>
public sealed record TrialEquipment(
    ImmutableArray<WeighingScale> Scales,
    DosingSyringe Syringe,
    DosingMethod Method = DosingMethod.WeighedByDifference,
    double Tolerance = TrialEquipment.UsualTolerance,
    double CylinderDivisionMilliliters = 1)
{
    /// <summary>Tolerance that is taken when none is given.</summary>
    public const double UsualTolerance = 0.05;

    /// <summary>The finest scale that carries this load, or null when none does.</summary>
    /// <param name="loadGrams">Everything that lies on it. [g]</param>
    public WeighingScale? FinestFor(double loadGrams) =>
        Scales.Where(scale => scale.CapacityGrams >= loadGrams).MinBy(scale => (scale.ErrorGrams, scale.CapacityGrams));

    /// <summary>Step to which a dose of stock is rounded: the scale's division in grams, or the syringe's in milliliters.</summary>
    public double DosingStep(WeighingScale scale)
    {
        ArgumentNullException.ThrowIfNull(scale);
        return Method is DosingMethod.WeighedByDifference ? scale.DivisionGrams : Syringe.DivisionMilliliters;
    }
}
