using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Batches.Journaling;

/// <summary>What can be typed into a field of a journal entry.</summary>
public enum FieldShape
{
    /// <summary>A number in the field's unit.</summary>
    Number = 1,

    /// <summary>One of the field's choices.</summary>
    Choice = 2,

    /// <summary>A few words on one line.</summary>
    Words = 3,
}

/// <summary>A field of a journal entry. Form, check, storage and words come from here.</summary>
/// <param name="Name">Lower-case words joined by hyphens; stored, so never renamed.</param>
/// <param name="Shape">What can be typed.</param>
/// <param name="IsRequired">Whether an entry without it is refused.</param>
public sealed record JournalField(string Name, FieldShape Shape, bool IsRequired)
{
    /// <summary>Unit of a number: SG, °C, g, kg, L, mL, g/L, mg/L, pH (no unit: empty).</summary>
    public string Unit { get; init; } = "";

    /// <summary>Lowest number taken.</summary>
    public double Low { get; init; }

    /// <summary>Highest number taken.</summary>
    public double High { get; init; }

    /// <summary>Digits after the decimal point with which the number is shown.</summary>
    public int Digits { get; init; }

    /// <summary>What can be chosen; the first is the usual one.</summary>
    public ValueList<string> Choices { get; init; } = ValueList.Of<string>();

    /// <summary>Whether the form keeps it folded away until it is asked for: seldom measured together with the rest.</summary>
    public bool IsSeldom { get; init; }

    /// <summary>Whether its few choices stand open in the form, so that one tap picks one.</summary>
    public bool IsOpen { get; init; }

    /// <summary>Most characters of a text.</summary>
    public const int LongestWords = 80;
}

/// <summary>One kind of journal entry: its fields, and whether a tap is enough to write it.</summary>
/// <param name="Kind">The kind.</param>
/// <param name="Key">Lower-case words joined by hyphens, part of the codes of its words.</param>
/// <param name="Fields">Its fields in the order of the form.</param>
public sealed record JournalKindEntry(JournalKind Kind, string Key, ValueList<JournalField> Fields)
{
    /// <summary>Whether one tap writes it with the time of now; else the tap opens the short form.</summary>
    public bool IsOneTap { get; init; }

    /// <summary>Whether an entry needs at least one of its fields, or words.</summary>
    public bool NeedsSomething { get; init; }

    /// <summary>Whether its form takes a photo; where <see cref="NeedsSomething"/>, a photo is enough.</summary>
    public bool TakesPhoto { get; init; }

    /// <summary>Key of the caution that stands at its form, or null.</summary>
    public string? Caution { get; init; }

    /// <summary>Name of the field that is asked for where an entry says nothing: the first one that could, else the maker's own words.</summary>
    public string Asked
    {
        get
        {
            foreach (var one in Fields)
            {
                if (one.Name != "sample")
                {
                    return one.Name;
                }
            }

            return JournalForm.Text;
        }
    }

    /// <summary>The field of that name, or null.</summary>
    public JournalField? Field(string name)
    {
        foreach (var field in Fields)
        {
            if (field.Name == name)
            {
                return field;
            }
        }

        return null;
    }
}
