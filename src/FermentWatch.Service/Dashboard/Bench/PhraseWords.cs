using System.Globalization;
using FermentWatch.Oenology.Worksheets;
using FermentWatch.Service.Dashboard.Words;
using FermentWatch.Service.Texts;

namespace FermentWatch.Service.Dashboard.Bench;

/// <summary>Texts and phrases of the library in the reader's language, units and decimal mark.</summary>
internal static class PhraseWords
{
    private static readonly QuantityKind[] Convertible = [QuantityKind.Gravity, QuantityKind.Temperature, QuantityKind.Volume, QuantityKind.Mass, QuantityKind.LargeMass];

    /// <summary>A text without values.</summary>
    public static string Of(string english, Reader reader) => Written(english, reader, keepsCelsius: false);

    /// <summary>A text of a source, whose temperatures stay beside the reader's own.</summary>
    public static string OfSource(string english, Reader reader) => Written(english, reader, keepsCelsius: true);

    /// <summary>A phrase with its values put in.</summary>
    /// <param name="phrase">The phrase.</param>
    /// <param name="reader">The reader.</param>
    /// <param name="label">What a field is called on this page; null for its key.</param>
    public static string Of(Phrase phrase, Reader reader, Func<string, string>? label = null)
    {
        ArgumentNullException.ThrowIfNull(phrase);
        var values = phrase.Values.Select(value => (object)Value(value, reader, label)).ToArray();

        // What holds nothing but values is no text of its own.
        var template = HasWords(phrase) ? Of(phrase.Template, reader) : phrase.Template;
        return Language.Present.Joined(string.Format(PluralForms.Present, template, values));
    }

    /// <summary>Whether a phrase has words that can be translated.</summary>
    internal static bool HasWords(Phrase phrase) => phrase.Template.Any(char.IsLetter);

    private static string Written(string english, Reader reader, bool keepsCelsius) =>
        FixedFigures.Written(FixedTemperatures.Written(SheetText.Of(english), reader.Units.Temperature, keepsCelsius), reader.Units.Mark);

    private static string Value(PhraseValue value, Reader reader, Func<string, string>? label) => value.Value switch
    {
        Phrase part => Of(part, reader, label),
        Amount amount => Written(amount, value.Format, reader),
        FieldName field => label?.Invoke(field.Key) ?? field.Key,
        Choice choice => Of(choice.Label, reader),
        double or decimal or int => reader.Marked(value.ToString()),
        _ => value.ToString(),
    };

    private static string Written(Amount amount, string? format, Reader reader)
    {
        if ((amount.Kind ?? Convertible.FirstOrDefault(kind => kind.Symbol == amount.Unit)) is not { } kind)
        {
            return Joined(reader.Marked((amount with { IsBare = true }).ToString(format, CultureInfo.InvariantCulture)), amount.Unit, amount);
        }

        var unit = SheetUnit.Of(kind, reader.Units);
        var number = format is null
            ? SheetFields.Typed(kind, amount.Value, reader)
            : reader.Number(unit.Unit.FromKept(amount.Value), unit.Symbol == kind.Symbol ? format : "F" + Math.Max(0, Digits(format) + unit.MoreDigits).ToString(CultureInfo.InvariantCulture));
        return Joined(number, unit.Symbol == kind.Symbol ? amount.Unit : unit.Symbol, amount);
    }

    // What stands in brackets, such as '(share)', tells programmers what a number without a unit is.
    private static string Joined(string number, string symbol, Amount amount) =>
        amount.IsBare || symbol.Length == 0 || symbol == "SG" || symbol[0] == '(' ? number : number + Figures.NoBreak + symbol;

    private static int Digits(string format) => format.IndexOf('.', StringComparison.Ordinal) is var point and >= 0 ? format.Length - point - 1 : 0;
}
