using System.Collections.Frozen;
using FermentWatch.Monitoring.Telemetry;
using static FermentWatch.Monitoring.Batches.Journaling.JournalFields;

namespace FermentWatch.Monitoring.Batches.Journaling;

/// <summary>Every kind of journal entry. A new one is a number in <see cref="JournalKind"/>, a line here, and its words.</summary>
/// <remarks>Ranges are wide on purpose: they catch slips of the pen and wrong units. Common practice, no source.</remarks>
public static class JournalCatalog
{
    /// <summary>The kinds in the order in which the page lists them.</summary>
    public static ValueList<JournalKindEntry> All { get; } = ValueList.Of<JournalKindEntry>(
        new(JournalKind.MeasuredByHand, "measured-by-hand", ValueList.Of<JournalField>(
            Gravity(isRequired: false), Degassed, SampleTemperature, Instrument, PH, TotalAcid, FreeSulfite, TotalSulfite, Nitrogen, SugarTest, Sample))
        { NeedsSomething = true },
        new(JournalKind.NutrientAdded, "nutrient-added", ValueList.Of<JournalField>(Product, Grams(false))) { IsOneTap = true },
        new(JournalKind.NutrientPlan, "nutrient-plan", ValueList.Of<JournalField>(Grams(true), Parts, HoursBetween, Nutrient, Product)),
        new(JournalKind.Stirred, "stirred", None) { IsOneTap = true },
        new(JournalKind.Handled, "handled", None) { IsOneTap = true },
        new(JournalKind.Moved, "moved", ValueList.Of<JournalField>(Place)) { IsOneTap = true },
        new(JournalKind.SugarAdded, "sugar-added", ValueList.Of<JournalField>(Sweetener, Kilograms(true))),
        new(JournalKind.Racked, "racked", ValueList.Of<JournalField>(Volume(true), Next)),
        new(JournalKind.RackingPlanned, "racking-planned", ValueList.Of<JournalField>(PlannedIn, ReceivingVessel, ReceivingHeadspace)) { NeedsSomething = true },
        new(JournalKind.ToppedUp, "topped-up", ValueList.Of<JournalField>(Added, With, Volume(false))),
        new(JournalKind.Inoculated, "inoculated", ValueList.Of<JournalField>(Yeast, Grams(false))) { IsOneTap = true },
        new(JournalKind.Repitched, "repitched", ValueList.Of<JournalField>(Yeast, Grams(false))) { IsOneTap = true },
        new(JournalKind.ColdCrash, "cold-crash", None) { IsOneTap = true },
        new(JournalKind.MalolacticStarted, "malolactic-started", ValueList.Of<JournalField>(Culture)) { IsOneTap = true },
        new(JournalKind.MalolacticFinished, "malolactic-finished", None) { IsOneTap = true },
        new(JournalKind.MalolacticPrevented, "malolactic-prevented", None) { IsOneTap = true, Caution = "caution-malolactic" },
        new(JournalKind.FruitIn, "fruit-in", ValueList.Of<JournalField>(Product, Kilograms(false))) { IsOneTap = true },
        new(JournalKind.FruitOut, "fruit-out", None) { IsOneTap = true },
        new(JournalKind.OakIn, "oak-in", ValueList.Of<JournalField>(Product, Grams(false))) { IsOneTap = true },
        new(JournalKind.OakOut, "oak-out", None) { IsOneTap = true },
        new(JournalKind.Fined, "fined", ValueList.Of<JournalField>(Agent, Grams(false))),
        new(JournalKind.ForcedTest, "forced-test", ValueList.Of<JournalField>(Gravity(isRequired: true), SampleTemperature, Instrument, Sample)),
        new(JournalKind.Smell, "smell", ValueList.Of<JournalField>(Smell)),
        new(JournalKind.Clarity, "clarity", ValueList.Of<JournalField>(Clarity)) { TakesPhoto = true },
        new(JournalKind.Tasted, "tasted", ValueList.Of<JournalField>(Sample)) { NeedsSomething = true, TakesPhoto = true },
        new(JournalKind.AcidAdded, "acid-added", ValueList.Of<JournalField>(Acid, Grams(true))),
        new(JournalKind.TanninAdded, "tannin-added", ValueList.Of<JournalField>(Product, Grams(true))),
        new(JournalKind.JarsFilled, "jars-filled", ValueList.Of<JournalField>(Sample)) { IsOneTap = true },
        new(JournalKind.SulfiteAdded, "sulfite-added", ValueList.Of<JournalField>(Sulfite with { IsRequired = true })) { Caution = "caution-sulfite" },
        new(JournalKind.Stabilized, "stabilized", ValueList.Of<JournalField>(Sulfite, Sorbate)) { Caution = "caution-sulfite", NeedsSomething = true },
        new(JournalKind.TrialDeclined, "trial-declined", None) { IsOneTap = true, Caution = "caution-trial-declined" },
        new(JournalKind.Sweetened, "sweetened", ValueList.Of<JournalField>(Sweetener, Kilograms(true))) { Caution = "caution-refermenting" },
        new(JournalKind.Pasteurized, "pasteurized", ValueList.Of<JournalField>(HeatedTo, HeldMinutes)) { Caution = "caution-heat" },
        new(JournalKind.SterileFiltered, "sterile-filtered", ValueList.Of<JournalField>(Pore)) { Caution = "caution-bottles" },
        new(JournalKind.PathChosen, "path-chosen", ValueList.Of<JournalField>(BottlePath, RatedPressure)) { Caution = "caution-rating" },
        new(JournalKind.Bottled, "bottled", ValueList.Of<JournalField>(Bottles, Fill, BottlePath, Sentinel)) { Caution = "caution-bottles" },
        new(JournalKind.BottleChecked, "bottle-checked", ValueList.Of<JournalField>(Feel, Gauge)) { IsOneTap = true, TakesPhoto = true, Caution = "caution-bottles" },
        new(JournalKind.AirlockRefilled, "airlock-refilled", None) { IsOneTap = true },
        new(JournalKind.VesselClosed, "vessel-closed", ValueList.Of<JournalField>(Closure, RatedPressure)) { Caution = "caution-closed" },
        new(JournalKind.VesselOpened, "vessel-opened", None) { IsOneTap = true },
        new(JournalKind.Note, "note", None) { NeedsSomething = true, TakesPhoto = true });

    private static readonly FrozenDictionary<JournalKind, JournalKindEntry> ByKind = All.ToFrozenDictionary(entry => entry.Kind);

    private static readonly FrozenDictionary<string, JournalKindEntry> ByKey = All.ToFrozenDictionary(entry => entry.Key, StringComparer.Ordinal);

    /// <summary>The entry of a kind; that of a note for a kind of a later version.</summary>
    public static JournalKindEntry Of(JournalKind kind) => ByKind.GetValueOrDefault(kind) ?? ByKind[JournalKind.Note];

    /// <summary>The entry under a key, or null.</summary>
    public static JournalKindEntry? Find(string key) => ByKey.GetValueOrDefault(key);

    private static ValueList<JournalField> None => ValueList.Of<JournalField>();
}
