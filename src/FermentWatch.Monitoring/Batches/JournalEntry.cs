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
}

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
    bool Undone);
