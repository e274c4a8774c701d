using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Sorbate;

/// <summary>Malolactic bacteria in a wine that is to get sorbate.</summary>
public enum MalolacticStatus
{
    /// <summary>Not known.</summary>
    Unknown,

    /// <summary>Never started, or prevented by sulfite.</summary>
    Prevented,

    /// <summary>Finished, and sulfited since.</summary>
    FinishedAndSulfited,

    /// <summary>Going on, or finished without sulfite since: the bacteria live.</summary>
    Living,
}

/// <summary>Why sorbate is given, or not.</summary>
public enum SorbateVerdict
{
    /// <summary>A dose from the table, under the limit.</summary>
    Dose,

    /// <summary>The ferment is active: sorbate does not stop it.</summary>
    RefusedActiveFerment,

    /// <summary>Malolactic bacteria live: it would make a geranium taint that never leaves.</summary>
    RefusedLivingBacteria,

    /// <summary>Not known whether malolactic bacteria live: refused until it is.</summary>
    RefusedBacteriaUnknown,

    /// <summary>pH above or alcohol below the table: sorbate alone will not hold this.</summary>
    WillNotHold,

    /// <summary>The table's dose is above the limit of the law: sorbate alone will not hold this within it.</summary>
    AboveLimit,

    /// <summary>pH below or alcohol above the table: it gives no figure.</summary>
    BeyondTable,
}

/// <summary>What is said about sorbate.</summary>
/// <param name="Verdict">The decision with its reason.</param>
/// <param name="PotassiumSorbate">The dose of the table; null outside it. Not to be added unless the verdict is a dose.</param>
/// <param name="SorbicAcidLimit">Limit of the law.</param>
public readonly record struct SorbateDecision(SorbateVerdict Verdict, Computed<MassConcentration>? PotassiumSorbate, MassConcentration SorbicAcidLimit);

/// <summary>Whether and how much sorbate.</summary>
public static class SorbateAdvice
{
    /// <summary>Limit of sorbic acid. [mg/L]</summary>
    /// <remarks>US 300 [CFR24.246] (figure through a club's note), EU and OIV 200 [OIVII345]; none chosen: 200.</remarks>
    public static MassConcentration SorbicAcidLimit(Law law) => MassConcentration.FromMilligramsPerLiter(law is Law.Us ? 300 : 200);

    /// <summary>Decides. [mg/L]</summary>
    /// <remarks>
    /// <para><b>Order.</b> An active ferment and living bacteria refuse before anything is computed; then the table; then the limit. No
    /// dose is ever cut down to a limit or to the edge of the table.</para>
    /// <para><b>Source.</b> [Underhill], [Cook2014]. <b>Check.</b> SorbateTests.</para>
    /// </remarks>
    public static SorbateDecision Decide(AlcoholByVolume alcohol, Ph ph, bool fermentIsActive, MalolacticStatus malolactic, Law law)
    {
        var limit = SorbicAcidLimit(law);
        if (fermentIsActive)
        {
            return new(SorbateVerdict.RefusedActiveFerment, null, limit);
        }

        if (malolactic is MalolacticStatus.Living or MalolacticStatus.Unknown)
        {
            return new(malolactic is MalolacticStatus.Living ? SorbateVerdict.RefusedLivingBacteria : SorbateVerdict.RefusedBacteriaUnknown, null, limit);
        }

        if (ph.Value > SorbateTable.HighestPh || alcohol.Percent < SorbateTable.LowestAlcoholPercent)
        {
            return new(SorbateVerdict.WillNotHold, null, limit);
        }

        if (SorbateTable.DoseFor(alcohol, ph) is not { } dose)
        {
            return new(SorbateVerdict.BeyondTable, null, limit);
        }

        var verdict = PotassiumSorbate.SorbicAcidOf(dose.Value) > limit ? SorbateVerdict.AboveLimit : SorbateVerdict.Dose;
        return new(verdict, dose, limit);
    }
}
