using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Batches.Journaling;

/// <summary>What was typed into a worksheet and what came out, as an entry of the journal may take it.</summary>
/// <param name="Result">The number of a result by its key, in the unit that the worksheet keeps; of several the first. Null for none.</param>
/// <param name="Given">The number of a field by its key, in the unit that the worksheet keeps; null where it stayed empty.</param>
/// <param name="Chosen">The choice of a field by its key; null where it stayed empty.</param>
public sealed record SheetNumbers(Func<string, double?> Result, Func<string, double?> Given, Func<string, string?> Chosen);

/// <summary>How a field of an entry is filled from a worksheet.</summary>
/// <param name="Field">Name of the entry's field.</param>
/// <param name="Number">Its number in the entry's unit; null for a word.</param>
/// <param name="Word">Its word; null for a number.</param>
public sealed record SheetFill(string Field, Func<SheetNumbers, double?>? Number, Func<SheetNumbers, string?>? Word)
{
    /// <summary>A number.</summary>
    public static SheetFill Of(string field, Func<SheetNumbers, double?> number) => new(field, number, null);

    /// <summary>The number of a result, times a factor between the units.</summary>
    public static SheetFill Result(string field, string result, double factor = 1) => Of(field, numbers => numbers.Result(result) * factor);

    /// <summary>The number of a worksheet's field.</summary>
    public static SheetFill Given(string field, string given) => Of(field, numbers => numbers.Given(given));

    /// <summary>A word.</summary>
    public static SheetFill Named(string field, Func<SheetNumbers, string?> word) => new(field, null, word);
}

/// <summary>One entry that a worksheet's result can become.</summary>
/// <param name="Kind">Kind of the entry.</param>
/// <param name="Fills">Its fields. One without a value drops the offer where the entry needs it.</param>
/// <param name="Weighed">Key of the result that is weighed out now; null where nothing is.</param>
public sealed record SheetOffer(JournalKind Kind, ValueList<SheetFill> Fills, string? Weighed = null)
{
    /// <summary>What must be so for the entry to be offered beyond having its amounts; null for nothing.</summary>
    public Func<SheetNumbers, bool>? When { get; init; }

    /// <summary>The values, or null where the result does not make this entry: an amount that it needs is missing or nothing.</summary>
    public IReadOnlyList<JournalValue>? Values(SheetNumbers numbers)
    {
        ArgumentNullException.ThrowIfNull(numbers);
        var kind = JournalCatalog.Of(Kind);
        if (When?.Invoke(numbers) == false)
        {
            return null;
        }

        var values = new List<JournalValue>();
        foreach (var fill in Fills)
        {
            var (number, word) = (fill.Number?.Invoke(numbers), fill.Word?.Invoke(numbers));
            var isAmount = kind.Field(fill.Field)?.Unit is "g" or "kg" or "L";
            if (number is { } value && double.IsFinite(value) && (value > 0 || !isAmount))
            {
                values.Add(new JournalValue(fill.Field, value, null));
            }
            else if (word is not null)
            {
                values.Add(new JournalValue(fill.Field, null, word));
            }
            else if (kind.Field(fill.Field)?.IsRequired == true || isAmount)
            {
                return null;
            }
        }

        return values;
    }
}

/// <summary>What becomes of a worksheet's result in the journal.</summary>
/// <param name="Sheet">Name of the worksheet.</param>
/// <param name="Offers">Entries that it can become, the likeliest first; a note can always be written beside them.</param>
/// <param name="Nothing">Why there is nothing to write down, as the last part of its words; null where there is.</param>
public sealed record SheetRecord(string Sheet, ValueList<SheetOffer> Offers, string? Nothing)
{
    /// <summary>The result becomes one of these entries.</summary>
    public static SheetRecord Of(string sheet, params IEnumerable<SheetOffer> offers) => new(sheet, ValueList.Of(offers), null);

    /// <summary>The result is worth a note: no kind of entry has its fields.</summary>
    public static SheetRecord Note(string sheet) => Of(sheet, new SheetOffer(JournalKind.Note, ValueList.Of<SheetFill>()));

    /// <summary>There is nothing to write down.</summary>
    public static SheetRecord None(string sheet, string because) => new(sheet, ValueList.Of<SheetOffer>(), because);
}
