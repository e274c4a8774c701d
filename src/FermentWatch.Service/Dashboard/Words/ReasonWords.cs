using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Dashboard.Journal;
using FermentWatch.Service.Texts;

namespace FermentWatch.Service.Dashboard.Words;

/// <summary>Turns reasons into words, from <c>Texts/Reasons.resx</c>. A reason is a clause: no capital, no full stop.</summary>
public static class ReasonWords
{
    private static readonly TextSource Source = new("Reasons");

    /// <summary>Whether the code has a text.</summary>
    public static bool Knows(string code) => Source.Find(code) is not null;

    /// <summary>The clause: 'the readings cover only 20 h'. A code without a text is shown as its own words, with its values.</summary>
    public static string Of(Reason reason, Reader reader)
    {
        ArgumentNullException.ThrowIfNull(reason);
        var values = reason.Values.Select(value => (object)Shown(value, reader)).ToArray();
        if (Source.Find(reason.Code) is not { } text)
        {
            var words = reason.Code.Replace('-', ' ');
            return values.Length == 0 ? words : $"{words} ({string.Join(", ", values)})";
        }

        if (reason.Code.StartsWith("journal-", StringComparison.Ordinal))
        {
            return InTheMakersWords(reason, text, values);
        }

        // A reason of an older store may carry fewer values than the text of today asks for.
        var needed = Enumerable.Repeat((object)"?", 10).ToArray();
        values.AsSpan(0, Math.Min(values.Length, needed.Length)).CopyTo(needed);
        return Language.Present.Joined(string.Format(PluralForms.Present, text, needed));
    }

    /// <summary>'nutrient added: second of four'; a note is its own words alone.</summary>
    private static string InTheMakersWords(Reason reason, string text, object[] values)
    {
        var kind = string.Format(PluralForms.Present, text, [.. values, "", ""]).Trim();
        var own = values.Length > 0 ? (string)values[0] : "";
        return own.Length == 0 ? kind : reason.Code == "journal-note" ? own : $"{kind}: {own}";
    }

    /// <summary>The clause as a sentence: capital first, full stop last.</summary>
    public static string Sentence(Reason reason, Reader reader) => Capitalized(reason, reader) is var text && text.EndsWith('?') ? text : text + ".";

    /// <summary>The clause with a capital, unless it begins with a name that somebody gave, or with pH.</summary>
    public static string Capitalized(Reason reason, Reader reader)
    {
        var text = Of(reason, reader);
        return text.Length == 0 || text.StartsWith("pH", StringComparison.Ordinal) || reason.Values.Any(value => value is ReasonValue.Name { Text.Length: > 0 } name && text.StartsWith(name.Text, StringComparison.Ordinal))
            ? text
            : char.ToUpperInvariant(text[0]) + text[1..];
    }

    private static string Shown(ReasonValue value, Reader reader) => value switch
    {
        ReasonValue.Gravity { IsDifference: true } difference => reader.GravityDifference(difference.Ratio),
        ReasonValue.Gravity gravity => reader.Gravity(gravity.Ratio),
        ReasonValue.Degrees { IsDifference: true } degrees => reader.DegreesApart(degrees.Celsius),
        ReasonValue.Degrees degrees => reader.Degrees(degrees.Celsius),
        ReasonValue.Moment moment => reader.Moment(moment.At),
        ReasonValue.Length length => Figures.Length(length.Span),
        ReasonValue.Count count => Figures.Count(count.Number),
        ReasonValue.Odds odds => Figures.Odds(odds.Probability),
        ReasonValue.Measured measured => Figures.Measured(measured.Number, measured.Unit),
        ReasonValue.Figure figure => reader.Number(figure.Value, "F" + figure.Digits.ToString(System.Globalization.CultureInfo.InvariantCulture)),
        ReasonValue.Amount amount => reader.Field(amount.Number, amount.Unit, amount.Digits),
        ReasonValue.Words words => Of(words.Of, reader),
        ReasonValue.Name name => name.Text,
        ReasonValue.Filled filled => FilledWords.Text(filled.Text, filled.Of, reader),
        _ => value.ToString(),
    };
}
