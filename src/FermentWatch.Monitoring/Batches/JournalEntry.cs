using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Monitoring.Batches;

/// <summary>What the maker did or saw. Stored by number: never renumber.</summary>
public enum JournalKind
{
    /// <summary>Yeast went in.</summary>
    Inoculated = 1,

    /// <summary>Nutrient was added.</summary>
    NutrientAdded = 2,

    /// <summary>Sugar or honey was added (step feeding).</summary>
    SugarAdded = 3,

    /// <summary>Racked off the lees.</summary>
    Racked = 4,

    /// <summary>Degassed or stirred.</summary>
    Stirred = 5,

    /// <summary>The vessel was moved or its room changed.</summary>
    Moved = 6,

    /// <summary>Gravity was measured by hand.</summary>
    MeasuredByHand = 7,

    /// <summary>Anything else worth a line.</summary>
    Note = 8,

    /// <summary>The vessel was opened, sampled or worked on: readings of the next while mean little.</summary>
    Handled = 9,

    /// <summary>Cold crash began.</summary>
    ColdCrash = 10,

    /// <summary>Malolactic fermentation began.</summary>
    MalolacticStarted = 11,

    /// <summary>Malolactic fermentation is over.</summary>
    MalolacticFinished = 12,

    /// <summary>Fruit went in.</summary>
    FruitIn = 13,

    /// <summary>Fruit came out.</summary>
    FruitOut = 14,

    /// <summary>Oak went in.</summary>
    OakIn = 15,

    /// <summary>Oak came out.</summary>
    OakOut = 16,

    /// <summary>A fining agent was added.</summary>
    Fined = 17,

    /// <summary>Topped up.</summary>
    ToppedUp = 18,

    /// <summary>Fresh yeast went in.</summary>
    Repitched = 19,

    /// <summary>A forced fermentation test reached its end.</summary>
    ForcedTest = 20,

    /// <summary>How it smells.</summary>
    Smell = 21,

    /// <summary>How clear it is.</summary>
    Clarity = 22,

    /// <summary>Stabilized with sulfite, sorbate or both.</summary>
    Stabilized = 23,

    /// <summary>Sweetened after it was stabilized.</summary>
    Sweetened = 24,

    /// <summary>Acid was added.</summary>
    AcidAdded = 25,

    /// <summary>Tannin was added.</summary>
    TanninAdded = 26,

    /// <summary>Tasted.</summary>
    Tasted = 27,

    /// <summary>Bottled.</summary>
    Bottled = 28,

    /// <summary>A bottle was looked at for gas, haze and sediment.</summary>
    BottleChecked = 29,

    /// <summary>The airlock was refilled.</summary>
    AirlockRefilled = 30,

    /// <summary>Nutrients were planned, to be added in parts.</summary>
    NutrientPlan = 31,

    /// <summary>Jars of a held bench trial were filled.</summary>
    JarsFilled = 32,

    /// <summary>Sulfite was added, be it to the must or to keep the wine: unlike <see cref="Stabilized"/> it begins no stage.</summary>
    SulfiteAdded = 33,

    /// <summary>A racking is planned: on which day, into which vessel.</summary>
    RackingPlanned = 34,

    /// <summary>The maker wants no bench trial before sweetening.</summary>
    TrialDeclined = 35,

    /// <summary>Heated, so that no yeast lives on.</summary>
    Pasteurized = 36,

    /// <summary>Filtered through a membrane that holds yeast and bacteria back.</summary>
    SterileFiltered = 37,

    /// <summary>How the bottles or the keg will be kept from refermenting, and what they bear.</summary>
    PathChosen = 38,

    /// <summary>The maker keeps malolactic fermentation from beginning: sulfite early, low pH, cold, or a must without malic acid.</summary>
    MalolacticPrevented = 39,

    /// <summary>The vessel was closed for good: a solid bung instead of the airlock, a keg, a sealed lid.</summary>
    VesselClosed = 40,

    /// <summary>Gas can leave the vessel again: it was opened, or an airlock put on.</summary>
    VesselOpened = 41,
}

/// <summary>A value of an entry: a field of the catalogue with its number or its word.</summary>
/// <param name="Field">Name of the field, see <see cref="Journaling.JournalCatalog"/>.</param>
/// <param name="Number">The number in the field's unit, or null.</param>
/// <param name="Word">The choice or the text, or null.</param>
public readonly record struct JournalValue(string Field, double? Number, string? Word);

/// <summary>One line of a batch's journal: a fact. Correcting writes a new entry that supersedes the old one.</summary>
/// <param name="Id">Number over the life of the store.</param>
/// <param name="Kind">What happened.</param>
/// <param name="At">When it happened.</param>
/// <param name="Text">The maker's own words, at most 500 characters; may be empty.</param>
/// <param name="Gravity">Gravity measured by hand, where the entry has one.</param>
/// <param name="Supersedes">The entry that this one replaces, or null.</param>
/// <param name="Undone">Whether the entry was taken back.</param>
public sealed record JournalEntry(
    long Id,
    JournalKind Kind,
    EventTime At,
    string Text,
    SpecificGravity? Gravity,
    long? Supersedes,
    bool Undone)
{
    /// <summary>What was measured, added or seen, in the order of the catalogue's fields.</summary>
    public ValueList<JournalValue> Values { get; init; } = ValueList.Of<JournalValue>();

    /// <summary>What of the text the house wrote itself; null where all of it is the maker's own.</summary>
    public FilledText? Filled { get; init; }

    /// <summary>Number of the photo that belongs to the entry, or null.</summary>
    public long? Photo { get; init; }

    /// <summary>Why the entry replaces another; null where it does not.</summary>
    public string? Because { get; init; }

    /// <summary>Name of whoever wrote it; null where nobody had to sign in.</summary>
    public string? By { get; init; }

    /// <summary>The number under a field, or null.</summary>
    public double? Number(string field)
    {
        foreach (var value in Values)
        {
            if (value.Field == field)
            {
                return value.Number;
            }
        }

        return null;
    }

    /// <summary>Whether it is a sample that is said not to have been degassed, which reads too high by an unknown part; one that does not tell is none.</summary>
    public bool HoldsGas() => Word("degassed") == "no";

    /// <summary>The word under a field, or null.</summary>
    public string? Word(string field)
    {
        foreach (var value in Values)
        {
            if (value.Field == field)
            {
                return value.Word;
            }
        }

        return null;
    }
}
