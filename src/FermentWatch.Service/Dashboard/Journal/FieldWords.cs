using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Service.Dashboard.Words;

namespace FermentWatch.Service.Dashboard.Journal;

/// <summary>Fields, their values and their faults in words.</summary>
internal static class FieldWords
{
    /// <summary>'Temperature of the sample'.</summary>
    public static string Label(string field) => JournalText.Of("field-" + field);

    /// <summary>'hydrometer made for 20 °C'; the figure on its glass stays.</summary>
    public static string Choice(string field, string choice, Reader reader) =>
        JournalText.Find($"choice-{field}-{choice}") is { } words ? FixedTemperatures.Written(words, reader.Units.Temperature, keepsCelsius: true) : choice;

    /// <summary>'Measured by hand'.</summary>
    public static string Kind(JournalKindEntry kind) => JournalText.Of("kind-" + kind.Key);

    /// <summary>'0.97 to 1.2 SG', or null where there is nothing to say.</summary>
    public static string? Hint(JournalField field, Reader reader)
    {
        var own = JournalText.Find("hint-" + field.Name) is { } words ? FixedTemperatures.Written(words, reader.Units.Temperature) : null;
        var range = field.Shape == FieldShape.Number ? Range(field, reader) : null;
        var needed = field.IsRequired && field.Shape != FieldShape.Choice ? JournalText.Of("needed") : null;
        return string.Join(" ", new[] { needed, own, range is null ? null : JournalText.Of("range", range) }.OfType<string>()) is { Length: > 0 } hint ? hint : null;
    }

    /// <summary>A sentence that names the field, what was typed and what would be right.</summary>
    public static string Fault(JournalField field, FieldFault fault, string typed, Reader reader)
    {
        var label = Label(field.Name);
        return fault switch
        {
            FieldFault.Missing when field.Shape == FieldShape.Number => JournalText.Of("fault-missing-number", label, Range(field, reader)),
            FieldFault.Missing => JournalText.Of("fault-missing", label),
            FieldFault.NoNumber => JournalText.Of("fault-no-number", label, typed, Range(field, reader), reader.FieldText(Example(field), field.Unit, field.Digits)),
            FieldFault.TwoReadings => JournalText.Of("fault-two-readings", label, typed, Range(field, reader)),
            FieldFault.OutOfRange => JournalText.Of("fault-range", label, typed, Range(field, reader)) + Guess(field, typed, reader),
            FieldFault.NoChoice => JournalText.Of("fault-choice", label, typed, string.Join(", ", field.Choices.Select(choice => Choice(field.Name, choice, reader)))),
            _ => JournalText.Of("fault-long", label, typed.Length, JournalField.LongestWords),
        };
    }

    /// <summary>'18.5 L, still fermenting'.</summary>
    public static string Values(JournalEntry entry, Reader reader)
    {
        var kind = JournalCatalog.Of(entry.Kind);
        return string.Join(", ", entry.Values.Where(value => kind.Field(value.Field) is not null).Select(value => Value(kind.Field(value.Field)!, value, reader)));
    }

    private static string Value(JournalField field, JournalValue value, Reader reader) => value switch
    {
        { Number: { } number } when JournalText.Find("value-" + field.Name) is not null => JournalText.Of("value-" + field.Name, reader.Field(number, field.Unit, field.Digits)),
        { Number: { } number } => reader.Field(number, field.Unit, field.Digits),
        { Word: { } word } => field.Shape == FieldShape.Choice ? Choice(field.Name, word, reader) : word,
        _ => "",
    };

    private static string Range(JournalField field, Reader reader)
    {
        var high = reader.FieldLimit(field.High, field.Unit, isLowest: false);
        return JournalText.Of(
            "from-to", reader.FieldLimit(field.Low, field.Unit, isLowest: true), field.Unit.Length == 0 ? high : high + Figures.NoBreak + reader.FieldUnit(field.Unit));
    }

    // What one could really have meant to write: a number inside the range.
    private static double Example(JournalField field)
    {
        var usual = field.Unit switch
        {
            "SG" => 1.05,
            "°C" => 20,
            "% vol" => 12.5,
            "mL" => 50,
            "mg/L" => 30,
            "g/L" => 6.5,
            _ => 3.5,
        };
        return usual >= field.Low && usual <= field.High ? usual : (field.Low + field.High) / 2;
    }

    // 1050 for 1.050 is the usual slip.
    private static string Guess(JournalField field, string typed, Reader reader) =>
        reader.FieldUnit(field.Unit) == "SG" && TypedNumber.TryRead(typed, reader.Units.Mark, out var number, out _) && number / 1000 >= field.Low && number / 1000 <= field.High
            ? " " + JournalText.Of("fault-guess", reader.Field(number / 1000, "SG", 3))
            : "";
}
