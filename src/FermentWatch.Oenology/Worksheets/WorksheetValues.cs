using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Worksheets;

/// <summary>The values of a run, each read and inside its range. Numbers are in the kept unit of their kind.</summary>
public sealed class WorksheetValues
{
    private readonly Dictionary<string, object> _values;

    internal WorksheetValues(Dictionary<string, object> values) => _values = values;

    /// <summary>A number that is always there: required, or with a usual value.</summary>
    public double Of(NumberInput input) => Maybe(input) ?? throw Missing(input, null);

    /// <summary>A number, or null when the field stayed empty.</summary>
    public double? Maybe(NumberInput input) => _values.TryGetValue(input.Key, out var value) ? (double)value : null;

    /// <summary>A number that this choice of other fields makes necessary.</summary>
    /// <param name="input">An optional field.</param>
    /// <param name="because">Why it is needed now, without a full stop: "because the acid is a liquid".</param>
    public double Needed(NumberInput input, Phrase because) => Maybe(input) ?? throw Missing(input, because);

    /// <summary>A list of numbers; empty when the field stayed empty.</summary>
    public IReadOnlyList<double> Of(NumberListInput input) => _values.TryGetValue(input.Key, out var value) ? (IReadOnlyList<double>)value : [];

    /// <summary>A choice that is always made.</summary>
    public T Of<T>(ChoiceInput<T> input)
        where T : struct, Enum => Maybe(input) ?? throw Missing(input, null);

    /// <summary>A choice, or null when none was made.</summary>
    public T? Maybe<T>(ChoiceInput<T> input)
        where T : struct, Enum => _values.TryGetValue(input.Key, out var value) ? (T)value : null;

    /// <summary>The answer to a question.</summary>
    public bool Of(YesNoInput input) => _values.TryGetValue(input.Key, out var value) ? (bool)value : throw Missing(input, null);

    /// <summary>A gravity.</summary>
    public SpecificGravity Gravity(NumberInput input) => SpecificGravity.FromRatio(Of(input));

    /// <summary>A temperature.</summary>
    public Temperature Temperature(NumberInput input) => Quantities.Temperature.FromCelsius(Of(input));

    /// <summary>A volume, of a field in liters.</summary>
    public Volume Volume(NumberInput input) => Quantities.Volume.FromLiters(Of(input));

    /// <summary>An alcoholic strength.</summary>
    public AlcoholByVolume Alcohol(NumberInput input) => AlcoholByVolume.FromPercent(Of(input));

    /// <summary>A fault of one field that shows only beside the others, such as a final gravity above the original.</summary>
    /// <param name="input">The field.</param>
    /// <param name="wanted">What would be right, such as "at most the original gravity".</param>
    public InputFaultException Wrong(WorksheetInput input, Phrase wanted)
    {
        var (field, given) = (new FieldName(input.Key), Given(input));
        var text = given.ToString();
        var words = text.Length == 0 ? (Phrase)$"{field} is missing; it must be {wanted}." : $"{field} is {given}; it must be {wanted}.";
        return new(new InputFault(input.Key, text, words));
    }

    private Phrase Given(WorksheetInput input) => (_values.GetValueOrDefault(input.Key), input) switch
    {
        (double number, NumberInput one) => $"{Bare(number, one.Kind)}",
        (IReadOnlyList<double> numbers, NumberListInput list) => Phrase.Joined(";", numbers.Select(number => (Phrase)$"{Bare(number, list.Kind)}")),
        (null, _) => string.Empty,
        var (value, _) => Convert.ToString(value, System.Globalization.CultureInfo.InvariantCulture) ?? string.Empty,
    };

    private static Amount Bare(double kept, QuantityKind kind) => new(kept, kind.Symbol, kind, IsBare: true);

    private static InputFaultException Missing(WorksheetInput input, Phrase? because)
    {
        var field = new FieldName(input.Key);
        var words = because is null ? (Phrase)$"{field} is missing; it must be {input.AllowedWords}." : $"{field} is missing; it is needed {because}, as {input.AllowedWords}.";
        return new(new InputFault(input.Key, string.Empty, words));
    }
}
