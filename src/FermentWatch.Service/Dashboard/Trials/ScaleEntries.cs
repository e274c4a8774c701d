using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.BenchTrials;
using FermentWatch.Service.Dashboard.Journal;
using FermentWatch.Service.Dashboard.Words;

namespace FermentWatch.Service.Dashboard.Trials;

/// <summary>Which part of an amount goes into the batch.</summary>
internal enum DosePart
{
    /// <summary>All at once.</summary>
    All,

    /// <summary>Three quarters.</summary>
    First,

    /// <summary>What is left.</summary>
    Rest,
}

/// <summary>What was given to the batch, as an entry of its journal: the kinds that remind of tasting again are those of the journal itself.</summary>
internal static class ScaleEntries
{
    /// <summary>The parts in which an amount is given; none when it is too little to be shown.</summary>
    public static IReadOnlyList<(DosePart Part, decimal Grams)> Parts(BatchAddition addition) => addition switch
    {
        { FirstGrams: { } first, RestGrams: { } rest } => [(DosePart.First, first), (DosePart.Rest, rest)],
        { Product.Shown: { } all } => [(DosePart.All, all)],
        _ => [],
    };

    /// <summary>The name under which it is remembered that a part was written.</summary>
    public static string Key(BatchAddition addition, DosePart part) => addition.Additive.Code + "-" + part.ToString().ToLowerInvariant();

    /// <summary>The entry.</summary>
    /// <param name="additive">What went in.</param>
    /// <param name="grams">How much product. [g]</param>
    /// <param name="isStabilized">Whether the wine was stabilized: sugar given to one that was not is food for its yeast.</param>
    /// <param name="at">When.</param>
    /// <param name="by">Who; null where nobody had to sign in.</param>
    /// <param name="reader">In whose language and units it is written.</param>
    public static JournalDraft Draft(TrialAdditive additive, decimal grams, bool? isStabilized, EventTime at, string? by, Reader reader)
    {
        var named = new FilledValue("additive", null, 0, additive.Code);
        var words = FilledWords.OfTrial("journal-scale", named);
        return (additive.Role, Word(additive)) switch
        {
            (AdditiveRole.Sweetener, { } sweetener) => Of(
                isStabilized is true ? JournalKind.Sweetened : JournalKind.SugarAdded, words, new("sweetener", null, sweetener), new("kilograms", (double)grams / 1000, null)),
            (AdditiveRole.Acid, { } acid) => Of(JournalKind.AcidAdded, words, new("acid", null, acid), new("grams", (double)grams, null)),
            (AdditiveRole.Tannin, _) => Of(JournalKind.TanninAdded, words, new("product", null, TrialWords.Additive(additive.Code)), new("grams", (double)grams, null)),
            _ => Of(JournalKind.Note, FilledWords.OfTrial("journal-scale-note", named, new("grams", (double)grams, Math.Min(9, (int)grams.Scale), null))),
        };

        JournalDraft Of(JournalKind kind, FilledText told, params JournalValue[] values)
        {
            var (text, filled) = FilledWords.Begun(told, reader);
            return new(kind, at, text) { Values = ValueList.Of<JournalValue>(values), By = by, Filled = filled };
        }
    }

    // Words of the journal's own choices.
    private static string? Word(TrialAdditive additive) => additive.Code switch
    {
        "sucrose" or "dextrose" => "sugar",
        "honey" => "honey",
        "tartaric-acid" => "tartaric",
        "malic-acid" => "malic",
        "citric-acid" => "citric",
        "lactic-acid" => "lactic",
        _ => null,
    };
}
