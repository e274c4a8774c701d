using System.Collections.Immutable;
using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Worksheets;

namespace FermentWatch.Oenology.BenchTrials;

/// <summary>What a batch is dosed from.</summary>
/// <param name="Wine">The batch today, volume measured today.</param>
/// <param name="Doses">Chosen doses, from what was achieved in the winning glass.</param>
/// <param name="Scales">Scales at hand.</param>
/// <param name="Tolerance">Allowed error of a dose, as a share.</param>
/// <param name="IsStabilized">Whether it is stabilized, so that sugar will not ferment; null when not known.</param>
/// <param name="Law">Whose limits; the strictest until one is chosen.</param>
public sealed record ScaleUpRequest(
    BenchWine Wine,
    ImmutableArray<AdditiveDose> Doses,
    ImmutableArray<WeighingScale> Scales,
    double Tolerance = TrialEquipment.UsualTolerance,
    bool? IsStabilized = null,
    Law Law = Law.Strictest);

/// <summary>One additive for the batch.</summary>
/// <param name="Additive">What.</param>
/// <param name="ChosenGramsPerLiter">Dose that was chosen. [g/L]</param>
/// <param name="Product">Product to weigh, rounded once to the scale's division; nothing is shown below one division. [g]</param>
/// <param name="ScaleName">On which scale.</param>
/// <param name="Weighings">In how many weighings: more than one when the scale can't carry it at once.</param>
/// <param name="FirstGrams">Three quarters, to begin with; null when too small to part. [g]</param>
/// <param name="RestGrams">What is left, after tasting; null when too small to part. [g]</param>
/// <param name="ProductMilliliters">The same as a volume, for a liquid product; null for a powder. [mL]</param>
/// <param name="AchievedGramsPerLiter">Dose that the rounded amount gives. [g/L]</param>
/// <param name="ErrorGramsPerLiter">Half-width of its error from scale and volume together. [g/L]</param>
public sealed record BatchAddition(
    TrialAdditive Additive,
    double ChosenGramsPerLiter,
    RoundedAmount Product,
    string ScaleName,
    int Weighings,
    decimal? FirstGrams,
    decimal? RestGrams,
    double? ProductMilliliters,
    double AchievedGramsPerLiter,
    double ErrorGramsPerLiter);

/// <summary>How the batch is dosed.</summary>
/// <param name="Additions">Amounts, in the order in which they go in.</param>
/// <param name="VolumeAfterLiters">Volume when all is in. [L]</param>
/// <param name="Expected">What the batch should measure then.</param>
/// <param name="WineAfter">The batch as it should then be: what the next trial or the next sheet starts from.</param>
/// <param name="Steps">The work, in order.</param>
/// <param name="Notices">What must be said beside it.</param>
public sealed record ScaleUpPlan(
    ImmutableArray<BatchAddition> Additions,
    double VolumeAfterLiters,
    GlassPrediction Expected,
    BenchWine WineAfter,
    ImmutableArray<WorkStep> Steps,
    ImmutableArray<BenchNotice> Notices);

/// <summary>What came of scaling up.</summary>
/// <param name="Plan">The plan; null when there is a fault or a dose is beyond an absolute limit.</param>
/// <param name="Faults">What is wrong with the request.</param>
/// <param name="Refusals">Doses beyond an absolute limit: then no amount is given.</param>
public sealed record ScaledUp(ScaleUpPlan? Plan, IReadOnlyList<InputFault> Faults, ImmutableArray<BenchNotice> Refusals);

/// <summary>One step of the work.</summary>
/// <param name="Code">Lower-case words joined by hyphens; every one stands in <see cref="WorkStepCodes"/>.</param>
/// <param name="Values">Values, each with its name and unit.</param>
public sealed record WorkStep(string Code, ImmutableArray<NoticeValue> Values)
{
    /// <summary>The caution that is shown with it, whole; null when there is none.</summary>
    public Caution? Caution => Code switch
    {
        WorkStepCodes.Degas => Caution.Foam,
        WorkStepCodes.StabilizeFirst or WorkStepCodes.WatchAfterSweetening => Caution.BottlePressure,
        WorkStepCodes.SulfiteAgain => Caution.Sulfite,
        _ => null,
    };

    internal static WorkStep Of(string code, params ImmutableArray<NoticeValue> values) => new(code, values);
}

/// <summary>Codes of the steps of dosing a batch (common practice, no source).</summary>
public static class WorkStepCodes
{
    /// <summary>Measure the volume today: an error of the volume is an error of the dose.</summary>
    public const string MeasureVolume = "measure-volume";

    /// <summary>Keep 100 mL of the winning glass, closed and cold, to compare.</summary>
    public const string KeepWinner = "keep-winner";

    /// <summary>Degas before powder goes in, and leave headspace: powder into gassy wine erupts. Caution 'foam'.</summary>
    public const string Degas = "degas";

    /// <summary>Tannin first, three quarters of it.</summary>
    public const string TanninFirst = "tannin-first";

    /// <summary>Wait this many days before judging it, and before sugar and acid.</summary>
    public const string WaitForTannin = "wait-for-tannin";

    /// <summary>Stabilize, and wait 24 to 48 hours, before sugar that can ferment. Caution 'bottle-pressure'.</summary>
    public const string StabilizeFirst = "stabilize-first";

    /// <summary>Acid and sugar may be adjusted right up to bottling.</summary>
    public const string UpToBottling = "acid-and-sugar-up-to-bottling";

    /// <summary>Draw off this much wine and dissolve the amount in it; warm nothing above 40 °C.</summary>
    public const string Dissolve = "dissolve-in-wine";

    /// <summary>Return it below the surface and stir without splashing.</summary>
    public const string Return = "return-below-surface";

    /// <summary>Three quarters now.</summary>
    public const string FirstPortion = "first-portion";

    /// <summary>All at once: too small to part.</summary>
    public const string AllAtOnce = "all-at-once";

    /// <summary>Wait this many hours, then measure and taste.</summary>
    public const string WaitAndTaste = "wait-and-taste";

    /// <summary>The rest, if it is still wanted.</summary>
    public const string Rest = "rest-if-wanted";

    /// <summary>Check gravity against the prediction.</summary>
    public const string CheckGravity = "check-gravity";

    /// <summary>Check acidity against the prediction, and measure pH.</summary>
    public const string CheckAcidity = "check-acidity";

    /// <summary>Free sulfite again: pH has moved, and with it what protects. Caution 'sulfite'.</summary>
    public const string SulfiteAgain = "sulfite-again";

    /// <summary>Taste beside the 100 mL that were kept.</summary>
    public const string CompareWithKept = "compare-with-kept";

    /// <summary>Watch the sweetened wine under an airlock for 14 days or more at 18 °C or more.</summary>
    public const string WatchAfterSweetening = "watch-after-sweetening";

    /// <summary>Every code, for a test that words exist.</summary>
    public static ImmutableArray<string> All { get; } =
    [
        MeasureVolume, KeepWinner, Degas, TanninFirst, WaitForTannin, StabilizeFirst, UpToBottling, Dissolve, Return, FirstPortion, AllAtOnce,
        WaitAndTaste, Rest, CheckGravity, CheckAcidity, SulfiteAgain, CompareWithKept, WatchAfterSweetening,
    ];
}
