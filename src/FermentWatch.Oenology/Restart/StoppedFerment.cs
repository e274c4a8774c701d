using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Worksheets;

namespace FermentWatch.Oenology.Restart;

/// <summary>A ferment that has stopped, as far as its maker knows it.</summary>
/// <param name="Volume">Volume today.</param>
/// <param name="Original">Gravity at the start, with every sugar added since.</param>
/// <param name="Present">Gravity now, degassed.</param>
/// <param name="Temperature">Temperature now.</param>
/// <param name="Ph">pH; null when it was not measured.</param>
/// <param name="Tolerance">Alcohol that its yeast is said to bear; null when it is not known.</param>
/// <param name="FreeSulfite">Free sulfite; null when it is not known.</param>
/// <param name="Sorbate">Whether sorbate was added.</param>
public readonly record struct StoppedFerment(
    Volume Volume,
    SpecificGravity Original,
    SpecificGravity Present,
    Temperature Temperature,
    Ph? Ph = null,
    AlcoholByVolume? Tolerance = null,
    MassConcentration? FreeSulfite = null,
    bool Sorbate = false);

/// <summary>Why a ferment may have stopped.</summary>
public enum StopCause
{
    /// <summary>Little or no sugar is left: it may simply be finished.</summary>
    PerhapsFinished = 1,

    /// <summary>Sorbate is in it: no yeast will multiply.</summary>
    Sorbate,

    /// <summary>Free sulfite holds the yeast down.</summary>
    Sulfite,

    /// <summary>The alcohol is as high as its yeast bears.</summary>
    AlcoholTolerance,

    /// <summary>Too hot: yeast dies within hours above about 34 °C.</summary>
    Heat,

    /// <summary>Too cold: yeast struggles below 15 °C.</summary>
    Cold,

    /// <summary>pH too low, as in many meads.</summary>
    LowPh,

    /// <summary>None of what was measured: mostly too little nitrogen or oxygen early, or weak yeast.</summary>
    NutritionOrYeast,
}

/// <summary>A step of the plan.</summary>
/// <param name="Code">Its name.</param>
/// <param name="Words">What to do, with amounts and times for this batch, and what stands behind it.</param>
/// <param name="IsPublished">Whether something published stands behind it; otherwise it is common practice without a source.</param>
public sealed record RestartStep(string Code, Phrase Words, bool IsPublished)
{
    /// <summary>The step in English.</summary>
    public string Text => Words.ToString();
}

/// <summary>The starter that gets used to the wine by doubling.</summary>
/// <param name="YeastGrams">Dry yeast. [g]</param>
/// <param name="RehydrationMilliliters">Water in which it is woken. [mL]</param>
/// <param name="FirstLiters">First starter: water with sugar, no alcohol. [L]</param>
/// <param name="FirstSugarGrams">Sugar in it. [g]</param>
/// <param name="WineLiters">Wine added at each doubling. [L]</param>
/// <param name="AlcoholShares">Alcohol of the starter after each doubling, as a share of that of the wine.</param>
public sealed record DoublingStarter(
    double YeastGrams,
    double RehydrationMilliliters,
    double FirstLiters,
    double FirstSugarGrams,
    IReadOnlyList<double> WineLiters,
    IReadOnlyList<double> AlcoholShares)
{
    /// <summary>Volume of the starter when it is joined to the batch. [L]</summary>
    public double FinalLiters => FirstLiters + WineLiters.Sum();
}

/// <summary>The plan.</summary>
/// <param name="Causes">Likely causes, the likeliest first.</param>
/// <param name="Starter">The starter; null when a restart is not the next thing to do.</param>
/// <param name="Steps">Steps in their order.</param>
public sealed record RestartAdvice(IReadOnlyList<StopCause> Causes, DoublingStarter? Starter, IReadOnlyList<RestartStep> Steps);
