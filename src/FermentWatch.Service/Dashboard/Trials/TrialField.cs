using System.Globalization;
using FermentWatch.Oenology.Worksheets;
using FermentWatch.Service.Dashboard.Bench;
using FermentWatch.Service.Dashboard.Words;

namespace FermentWatch.Service.Dashboard.Trials;

/// <summary>A number that a form of a trial asks for.</summary>
/// <param name="Name">Its name; the label stands under <c>field-NAME</c>, a word of help under <c>help-NAME</c> where there is one.</param>
/// <param name="Kind">What it measures, for the reader's unit.</param>
/// <param name="Low">Lowest allowed, in the kept unit.</param>
/// <param name="High">Highest allowed, in the kept unit.</param>
/// <param name="IsNeeded">Whether it must be given.</param>
/// <param name="Unit">Unit that no reader changes, such as what a scale shows; null for that of the kind.</param>
internal sealed record TrialField(string Name, QuantityKind Kind, double Low, double High, bool IsNeeded, string? Unit = null)
{
    public string Label => TrialText.Of("field-" + Key);

    // Fields of the same kind are numbered.
    private string Key => Name.TrimEnd('0', '1', '2', '3', '4', '5', '6', '7', '8', '9').TrimEnd('-');

    private NumberInput Input => new(Name, Label, Kind, Low, High, Optional: !IsNeeded);

    /// <summary>Unit behind the field.</summary>
    public string Sign(Reader reader) => Unit ?? SheetUnit.Of(Kind, reader.Units).Symbol;

    /// <summary>A kept value as the reader types it.</summary>
    public string Typed(double? kept, Reader reader) => kept is { } value ? SheetFields.Typed(Kind, value, reader) : "";

    /// <summary>A word of help, where the value came from, and the range.</summary>
    public string Hint(Reader reader, string? from = null) => string.Join(' ', new[]
    {
        from ?? (TrialText.Has("help-" + Key) ? TrialText.Of("help-" + Key, reader.Number(0.01, "0.00")) : null),
        TrialText.Of(IsNeeded ? "range" : "range-optional", Range(reader)),
    }.Where(part => part is not null));

    /// <summary>Reads what was typed; a fault says what would be right.</summary>
    public double? Read(string typed, Reader reader, IDictionary<string, string> faults)
    {
        if (typed.Length == 0)
        {
            if (IsNeeded)
            {
                faults[Name] = TrialText.Of("fault-missing", Label, Range(reader));
            }

            return null;
        }

        var (text, fault) = SheetFields.Read(Input, typed, reader);
        if (text is null)
        {
            faults[Name] = fault is null || Unit is not null ? TrialText.Of("fault-number", Label, typed.Length > 40 ? typed[..40] : typed, Range(reader)) : fault;
            return null;
        }

        return double.Parse(text, CultureInfo.InvariantCulture);
    }

    private string Range(Reader reader)
    {
        var sign = Sign(reader);
        return TrialText.Of("from-to", Limit(Low), Limit(High) + (sign.Length > 0 ? Figures.NoBreak + sign : ""));

        // Gravity is read with three decimals.
        string Limit(double value) => sign == "SG" ? reader.Number(value, "0.000") : Typed(value, reader);
    }
}

/// <summary>What was typed into a form of a trial, and what is wrong with it.</summary>
/// <param name="Typed">What stands in each field.</param>
/// <param name="Faults">Sentences by field.</param>
/// <param name="Problems">Sentences that belong to no field.</param>
public sealed record TrialTyped(IReadOnlyDictionary<string, string> Typed, IReadOnlyDictionary<string, string> Faults, IReadOnlyList<string> Problems)
{
    /// <summary>Nothing typed, nothing wrong.</summary>
    public static TrialTyped Nothing { get; } = new(new Dictionary<string, string>(), new Dictionary<string, string>(), []);

    /// <summary>What stands in a field.</summary>
    public string this[string name] => Typed.GetValueOrDefault(name, "");

    /// <summary>What is wrong with a field; null for nothing.</summary>
    public string? Fault(string name) => Faults.GetValueOrDefault(name);
}
