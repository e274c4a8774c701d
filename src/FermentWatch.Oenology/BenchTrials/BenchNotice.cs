using System.Collections.Immutable;
using System.Text.Json.Serialization;
using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Worksheets;

namespace FermentWatch.Oenology.BenchTrials;

/// <summary>Something that must be said beside a number: a code that the service turns into words, and the values that go into them.</summary>
/// <param name="Code">Lower-case words joined by hyphens; every one stands in <see cref="BenchNoticeCodes"/>.</param>
/// <param name="Weight">How much it weighs.</param>
/// <param name="Values">Values, each with its name and unit.</param>
/// <param name="Words">The guard rail's own sentence, with limit, law and source; null for other notices.</param>
public sealed record BenchNotice(string Code, NoticeWeight Weight, ImmutableArray<NoticeValue> Values, [property: JsonIgnore] Phrase? Words = null)
{
    /// <summary>The guard rail's own sentence in English; null for other notices.</summary>
    public string? Sentence => Words?.ToString();

    /// <summary>The caution that is shown with it, whole; null when there is none.</summary>
    public Caution? Caution => Code switch
    {
        BenchNoticeCodes.AlcoholServed or BenchNoticeCodes.AlcoholUnknown => Caution.AlcoholServed,
        BenchNoticeCodes.FewTasters => Caution.FewTasters,
        BenchNoticeCodes.MeasureFirst => Caution.MeasureFirst,
        BenchNoticeCodes.CarbonateFoam => Caution.CarbonateFoam,
        BenchNoticeCodes.AcidBurns => Caution.Acid,
        BenchNoticeCodes.StabilizeBeforeSugar => Caution.BottlePressure,
        BenchNoticeCodes.HeldJars => Caution.Sulfite,
        _ => null,
    };

    internal static BenchNotice Note(string code, params ImmutableArray<NoticeValue> values) => new(code, NoticeWeight.Note, values);

    internal static BenchNotice Warning(string code, params ImmutableArray<NoticeValue> values) => new(code, NoticeWeight.Warning, values);

    internal static BenchNotice Refusal(string code, params ImmutableArray<NoticeValue> values) => new(code, NoticeWeight.Refusal, values);
}

/// <summary>A value in a notice.</summary>
/// <param name="Name">What it is: an additive's code, or words joined by hyphens.</param>
/// <param name="Number">The number.</param>
/// <param name="Unit">Its unit; empty for a count.</param>
public sealed record NoticeValue(string Name, double Number, string Unit);

/// <summary>Codes of the notices of trials and scale-up.</summary>
public static class BenchNoticeCodes
{
    /// <summary>The step can't be dosed within the tolerance with these instruments: a larger glass, a finer scale or a coarser step is needed.</summary>
    public const string StepNotMeasurable = "step-not-measurable";

    /// <summary>The product for the stock can't be weighed within the tolerance unless far more stock is made than is needed: a finer scale is needed.</summary>
    public const string StockNotMeasurable = "stock-not-measurable";

    /// <summary>No instrument weighs this much: the amount is split over several weighings, or a larger scale is needed.</summary>
    public const string OverCapacity = "over-capacity";

    /// <summary>The amount is below what the instrument can tell: no number is shown. Make a stock solution.</summary>
    public const string BelowStep = "below-step";

    /// <summary>The amount can be read but not within the tolerance.</summary>
    public const string BelowSmallestWeighable = "below-smallest-weighable";

    /// <summary>A scale with coarse division swallows a slow trickle: add in one go, then wait for the reading.</summary>
    public const string SlowTrickle = "slow-trickle";

    /// <summary>The scale's repeatability was not given: 0.41 of its division is taken. A one-minute repeat test tells.</summary>
    public const string RepeatabilityAssumed = "repeatability-assumed";

    /// <summary>Reading a syringe errs more than weighing it by difference.</summary>
    public const string SyringeRead = "syringe-read-not-weighed";

    /// <summary>The stock is made in water and thins the wine in the glass, the control too.</summary>
    public const string WaterDilutes = "water-dilutes";

    /// <summary>The trial takes more of the batch than the usual 3 %.</summary>
    public const string LargeShare = "large-share-of-batch";

    /// <summary>Room left by the samples: how much to top up.</summary>
    public const string TopUp = "top-up";

    /// <summary>Alcohol served; small pours, spit cup, water, no driving. Caution 'alcohol-served'.</summary>
    public const string AlcoholServed = "alcohol-served";

    /// <summary>Alcohol of the wine is not known, so what is served can't be told. Caution 'alcohol-served' all the same.</summary>
    public const string AlcoholUnknown = "alcohol-unknown";

    /// <summary>The maker can't be blind alone: somebody else shuffles the codes under the glasses.</summary>
    public const string NotBlindAlone = "not-blind-alone";

    /// <summary>With this many tasters the serving order is as balanced as can be, not balanced.</summary>
    public const string OrderAsBalancedAsCanBe = "order-as-balanced-as-can-be";

    /// <summary>Few tasters prove little. Caution 'few-tasters'.</summary>
    public const string FewTasters = "few-tasters";

    /// <summary>Stock or additive is cloudy or colored: dark cups.</summary>
    public const string DarkCups = "dark-cups";

    /// <summary>Glasses are served alike: same volume, same temperature, at most six a flight, two minutes between.</summary>
    public const string ServeAlike = "serve-alike";

    /// <summary>Tannin can't be judged on the same day: a held trial is the way.</summary>
    public const string TanninNeedsTime = "tannin-needs-time";

    /// <summary>Jars of a held trial: brim-full, sulfited, dark and cool, 7 to 14 days; then sugar and acid on the winner.</summary>
    public const string HeldJars = "held-jars";

    /// <summary>pH was not predicted: measure it in the glass.</summary>
    public const string PhNotPredicted = "ph-not-predicted";

    /// <summary>Predicted pH: measure it in the glass before dosing the batch.</summary>
    public const string PhPredicted = "ph-predicted-then-measure";

    /// <summary>Measure free sulfite, pH and acidity first. Caution 'measure-first'.</summary>
    public const string MeasureFirst = "measure-first";

    /// <summary>Carbonates foam. Caution 'carbonate-foam'.</summary>
    public const string CarbonateFoam = "carbonate-foam";

    /// <summary>Concentrated acid burns. Caution 'acid'.</summary>
    public const string AcidBurns = "acid";

    /// <summary>Sugar that can ferment needs a stabilized wine, or it ferments again. Caution 'bottle-pressure'.</summary>
    public const string StabilizeBeforeSugar = "stabilize-before-sugar";

    /// <summary>Smell only, never drink.</summary>
    public const string SmellOnly = "smell-only";

    /// <summary>Beyond the absolute limit of the law, the strictest unless one is chosen: refused.</summary>
    public const string BeyondLimit = DoseAssessment.RefusalCode;

    /// <summary>Beyond what is recommended.</summary>
    public const string BeyondRecommended = DoseAssessment.WarningCode;

    /// <summary>Thresholds differ ten- to a hundredfold between people: for planning steps, never a limit.</summary>
    public const string ThresholdsVary = "thresholds-vary";

    /// <summary>The value is from memory: a sanity check at most.</summary>
    public const string FromMemory = "from-memory";

    /// <summary>Every code, for a test that words exist.</summary>
    public static ImmutableArray<string> All { get; } =
    [
        StepNotMeasurable, StockNotMeasurable, OverCapacity, BelowStep, BelowSmallestWeighable, SlowTrickle, RepeatabilityAssumed, SyringeRead, WaterDilutes,
        LargeShare, TopUp, AlcoholServed, AlcoholUnknown, NotBlindAlone, OrderAsBalancedAsCanBe, FewTasters, DarkCups, ServeAlike,
        TanninNeedsTime, HeldJars, PhNotPredicted, PhPredicted, MeasureFirst, CarbonateFoam, AcidBurns, StabilizeBeforeSugar, SmellOnly,
        ThresholdsVary, FromMemory, BeyondLimit, BeyondRecommended,
    ];
}
