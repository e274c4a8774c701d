using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Worksheets;

/// <summary>One result of a worksheet.</summary>
/// <param name="Key">Its name in commands and in JSON.</param>
/// <param name="Label">What stands beside it.</param>
public abstract record WorksheetOutput(string Key, string Label);

/// <summary>A number as result.</summary>
/// <param name="Key">Its name.</param>
/// <param name="Label">Its label.</param>
/// <param name="Kind">What it measures.</param>
/// <param name="Digits">Digits after the point that are shown in the kept unit.</param>
public sealed record NumberOutput(string Key, string Label, QuantityKind Kind, int Digits) : WorksheetOutput(Key, Label)
{
    /// <summary>A result without a stated error: counts, exact arithmetic, what the user gave.</summary>
    /// <param name="value">In the kept unit of the kind.</param>
    public NumberResult Is(double value) => new(this, value, null, Validity.WithinSource);

    /// <summary>A result with its error.</summary>
    /// <param name="value">In the kept unit of the kind.</param>
    /// <param name="tolerance">Half-width of its error in the same unit, or null for none stated.</param>
    /// <param name="validity">Whether the source covers the inputs.</param>
    public NumberResult Is(double value, double? tolerance, Validity validity = Validity.WithinSource) => new(this, value, tolerance, validity);

    /// <summary>A computed quantity as result.</summary>
    /// <param name="computed">The quantity with its error.</param>
    /// <param name="read">Reads its number in the kept unit; the error must be in the same unit.</param>
    public NumberResult Is<T>(Computed<T> computed, Func<T, double> read)
        where T : struct => new(this, read(computed.Value), computed.Tolerance, computed.Validity);

    /// <summary>The same output with as many digits as a value of it deserves: 2.8 and 0.0028, not 2.8284.</summary>
    /// <param name="value">In the kept unit; 0 or less keeps the digits.</param>
    /// <param name="significant">Digits that mean something, counted from the first that is not 0.</param>
    public NumberOutput Significant(double value, int significant) =>
        value > 0 ? this with { Digits = Math.Clamp(significant - 1 - (int)Math.Floor(Math.Log10(value)), 0, 9) } : this;

    /// <summary>The same output with the digits that an instrument shows: two for a step of 0.05.</summary>
    /// <param name="step">The smallest step of its display, in the kept unit; above 0.</param>
    public NumberOutput OfStep(double step)
    {
        var digits = 0;
        while (digits < 6 && Math.Abs(Math.Round(step) - step) > 1e-9 * step)
        {
            step *= 10;
            digits++;
        }

        return this with { Digits = digits };
    }
}

/// <summary>Several numbers of one kind as result, such as the steps of a plan.</summary>
/// <param name="Key">Its name.</param>
/// <param name="Label">Its label.</param>
/// <param name="Kind">What each measures.</param>
/// <param name="Digits">Digits after the point.</param>
public sealed record NumberListOutput(string Key, string Label, QuantityKind Kind, int Digits) : WorksheetOutput(Key, Label)
{
    /// <summary>The numbers, in the kept unit.</summary>
    public NumberListResult Are(IReadOnlyList<double> values) => new(this, values);
}

/// <summary>Words as result: a category, a step of a plan.</summary>
/// <param name="Key">Its name.</param>
/// <param name="Label">Its label.</param>
public sealed record TextOutput(string Key, string Label) : WorksheetOutput(Key, Label)
{
    /// <summary>The words.</summary>
    public TextResult Is(params IReadOnlyList<Phrase> lines) => new(this, lines);
}

/// <summary>A result.</summary>
/// <param name="Output">Which one.</param>
public abstract record WorksheetResult(WorksheetOutput Output);

/// <summary>A number with its error.</summary>
/// <param name="Number">Which output.</param>
/// <param name="Value">In the kept unit.</param>
/// <param name="Tolerance">Half-width of the stated error, same unit; null for none.</param>
/// <param name="Validity">Whether the source covers the inputs.</param>
public sealed record NumberResult(NumberOutput Number, double Value, double? Tolerance, Validity Validity) : WorksheetResult(Number);

/// <summary>Numbers.</summary>
/// <param name="Numbers">Which output.</param>
/// <param name="Values">In the kept unit.</param>
public sealed record NumberListResult(NumberListOutput Numbers, IReadOnlyList<double> Values) : WorksheetResult(Numbers);

/// <summary>Lines of words.</summary>
/// <param name="Text">Which output.</param>
/// <param name="Words">One or more lines.</param>
public sealed record TextResult(TextOutput Text, IReadOnlyList<Phrase> Words) : WorksheetResult(Text)
{
    /// <summary>The lines in English.</summary>
    public IReadOnlyList<string> Lines => [.. Words.Select(line => line.ToString())];
}
