using System.Globalization;

namespace FermentWatch.Oenology.Worksheets;

/// <summary>A field for one number with its unit and its range.</summary>
/// <param name="Key">Its name.</param>
/// <param name="Label">Its label.</param>
/// <param name="Kind">What it measures; the range is in the unit that this kind keeps.</param>
/// <param name="Low">Lowest allowed.</param>
/// <param name="High">Highest allowed.</param>
/// <param name="Usual">The value taken when nothing is given; null for none.</param>
/// <param name="Optional">Whether it may stay empty though there is no usual value.</param>
/// <param name="Help">A sentence of help, or null.</param>
public sealed record NumberInput(string Key, string Label, QuantityKind Kind, double Low, double High, double? Usual = null, bool Optional = false, string? Help = null)
    : WorksheetInput(Key, Label, Help)
{
    /// <inheritdoc/>
    public override bool IsOptional => Optional || Usual is not null;

    /// <inheritdoc/>
    public override Phrase AllowedWords => $"a number from {new Amount(Low, Kind.Symbol, Kind, IsBare: true)} to {Amount.Of(High, Kind)}";

    /// <inheritdoc/>
    public override string? UsualText => Usual?.ToString(CultureInfo.InvariantCulture);

    internal override object? Read(string text) => Kind.TryRead(text, out var value) && value >= Low && value <= High ? value : null;
}

/// <summary>A field for several numbers of one kind, such as the parts of a blend; typed with semicolons between.</summary>
/// <param name="Key">Its name.</param>
/// <param name="Label">Its label.</param>
/// <param name="Kind">What each measures.</param>
/// <param name="Low">Lowest allowed for each.</param>
/// <param name="High">Highest allowed for each.</param>
/// <param name="Fewest">How many at least.</param>
/// <param name="Most">How many at most.</param>
/// <param name="Optional">Whether it may stay empty.</param>
/// <param name="Help">A sentence of help, or null.</param>
public sealed record NumberListInput(string Key, string Label, QuantityKind Kind, double Low, double High, int Fewest, int Most, bool Optional = false, string? Help = null)
    : WorksheetInput(Key, Label, Help)
{
    /// <inheritdoc/>
    public override bool IsOptional => Optional;

    /// <inheritdoc/>
    public override Phrase AllowedWords =>
        $"{Fewest} to {Most} numbers with semicolons between, each from {new Amount(Low, Kind.Symbol, Kind, IsBare: true)} to {Amount.Of(High, Kind)}";

    /// <inheritdoc/>
    public override string? UsualText => null;

    internal override object? Read(string text)
    {
        var values = new List<double>();
        foreach (var part in text.Split(';', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))
        {
            if (!Kind.TryRead(part, out var value) || value < Low || value > High)
            {
                return null;
            }

            values.Add(value);
        }

        return values.Count >= Fewest && values.Count <= Most ? values : null;
    }
}
