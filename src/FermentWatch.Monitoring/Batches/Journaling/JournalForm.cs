using System.Globalization;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Monitoring.Batches.Journaling;

/// <summary>What is wrong with a field of a form.</summary>
public enum FieldFault
{
    /// <summary>It is needed and empty.</summary>
    Missing = 1,

    /// <summary>It is no number.</summary>
    NoNumber = 2,

    /// <summary>The number is outside the range.</summary>
    OutOfRange = 3,

    /// <summary>The word is not one of the choices.</summary>
    NoChoice = 4,

    /// <summary>The text is too long.</summary>
    TooLong = 5,

    /// <summary>The comma in the number may part thousands or the fraction.</summary>
    TwoReadings = 6,
}

/// <summary>A number read from what was typed into a field.</summary>
/// <param name="Value">The number in the field's unit; null when there is none.</param>
/// <param name="Fault">Why there is none; null when there is.</param>
public readonly record struct FieldNumber(double? Value, FieldFault? Fault);

/// <summary>A form of a journal entry, read: its values, or what is wrong with which field.</summary>
/// <param name="Values">Values in the order of the catalogue's fields.</param>
/// <param name="Gravity">Gravity 20/20 °C, the sample's temperature corrected for; null where none was measured.</param>
/// <param name="Faults">Faults by field; empty when all is right.</param>
public sealed record JournalFormResult(
    ValueList<JournalValue> Values, SpecificGravity? Gravity, IReadOnlyDictionary<string, FieldFault> Faults);

/// <summary>Reads what was typed for a journal entry.</summary>
public static class JournalForm
{
    /// <summary>Name under which the maker's own words are typed.</summary>
    public const string Text = "text";

    // A limit typed in another unit is that limit.
    private const double RoundOff = 1e-9;

    /// <summary>Most characters of the maker's own words.</summary>
    public const int LongestText = 500;

    /// <summary>Reads and checks every field of a kind.</summary>
    /// <param name="kind">The kind's entry in the catalogue.</param>
    /// <param name="typed">What was typed under a name, without white space around it; empty where nothing was.</param>
    /// <param name="numbers">Reads a number in the unit in which it was typed, into the field's unit; null for the field's own unit.</param>
    public static JournalFormResult Read(JournalKindEntry kind, Func<string, string> typed, Func<JournalField, string, FieldNumber>? numbers = null)
    {
        ArgumentNullException.ThrowIfNull(kind);
        ArgumentNullException.ThrowIfNull(typed);
        var values = new List<JournalValue>();
        var faults = new Dictionary<string, FieldFault>(StringComparer.Ordinal);
        foreach (var field in kind.Fields)
        {
            var text = typed(field.Name);
            if (text.Length == 0)
            {
                if (field.IsRequired)
                {
                    faults[field.Name] = FieldFault.Missing;
                }
            }
            else if (Read(field, text, numbers ?? Plain, out var value) is { } fault)
            {
                faults[field.Name] = fault;
            }
            else
            {
                values.Add(value);
            }
        }

        var own = typed(Text);
        if (own.Length > LongestText)
        {
            faults[Text] = FieldFault.TooLong;
        }

        // A choice alone, such as the instrument, says nothing.
        if (kind.NeedsSomething && faults.Count == 0 && own.Length == 0 && !values.Exists(value => value.Number is not null && value.Field is not ("sample-temperature" or "sample")))
        {
            faults[kind.Asked] = FieldFault.Missing;
        }

        var list = ValueList.Of<JournalValue>(values);
        return new JournalFormResult(list, faults.Count == 0 ? GravityOf(list) : null, faults);
    }

    /// <summary>A number as people type it: with a decimal point or a decimal comma, without thousands.</summary>
    public static double? Number(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        return double.TryParse(text.Replace(',', '.'), NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var number)
            && double.IsFinite(number)
            ? number
            : null;
    }

    private static FieldNumber Plain(JournalField field, string text) => Number(text) is { } number ? new(number, null) : new(null, FieldFault.NoNumber);

    private static FieldFault? Read(JournalField field, string text, Func<JournalField, string, FieldNumber> numbers, out JournalValue value)
    {
        value = default;
        switch (field.Shape)
        {
            case FieldShape.Number:
                var (read, fault) = numbers(field, text);
                if (read is not { } number)
                {
                    return fault ?? FieldFault.NoNumber;
                }

                if (number < field.Low - (RoundOff * Math.Abs(field.Low)) || number > field.High + (RoundOff * Math.Abs(field.High)))
                {
                    return FieldFault.OutOfRange;
                }

                value = new JournalValue(field.Name, Math.Clamp(number, field.Low, field.High), null);
                return null;
            case FieldShape.Choice:
                value = new JournalValue(field.Name, null, text);
                return field.Choices.Contains(text) ? null : FieldFault.NoChoice;
            default:
                value = new JournalValue(field.Name, null, text);
                return text.Length > JournalField.LongestWords ? FieldFault.TooLong : null;
        }
    }

    private static SpecificGravity? GravityOf(ValueList<JournalValue> values)
    {
        (double? reading, double? celsius, string? instrument) = (null, null, null);
        foreach (var value in values)
        {
            (reading, celsius, instrument) = value.Field switch
            {
                "gravity" => (value.Number, celsius, instrument),
                "sample-temperature" => (reading, value.Number, instrument),
                "instrument" => (reading, celsius, value.Word),
                _ => (reading, celsius, instrument),
            };
        }

        return reading is { } ratio
            ? InstrumentNames.Gravity(SpecificGravity.FromRatio(ratio), celsius is { } warmth ? Temperature.FromCelsius(warmth) : null, instrument)
            : null;
    }
}
