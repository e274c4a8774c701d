namespace FermentWatch.Oenology.Worksheets;

/// <summary>One of the choices of a field.</summary>
/// <param name="Code">Its name in commands and in JSON.</param>
/// <param name="Label">What stands on the page.</param>
public sealed record Choice(string Code, string Label)
{
    /// <inheritdoc/>
    public override string ToString() => Code;
}

/// <summary>A field with a few named choices.</summary>
/// <param name="Key">Its name.</param>
/// <param name="Label">Its label.</param>
/// <param name="Help">A sentence of help, or null.</param>
public abstract record ChoiceInput(string Key, string Label, string? Help) : WorksheetInput(Key, Label, Help)
{
    /// <summary>The choices, in the order in which they are shown.</summary>
    public abstract IReadOnlyList<Choice> Choices { get; }

    /// <inheritdoc/>
    public override Phrase AllowedWords => $"one of {Phrase.Joined(", ", Choices.Select(choice => (Phrase)$"{choice}"))}";
}

/// <summary>A field whose choices are the members of an enumeration, written as their names in lower case with hyphens.</summary>
/// <typeparam name="T">The enumeration.</typeparam>
/// <param name="Key">Its name.</param>
/// <param name="Label">Its label.</param>
/// <param name="Words">The choices with their words, in the order in which they are shown.</param>
/// <param name="Usual">The choice taken when nothing is given; null when one must be made.</param>
/// <param name="Optional">Whether it may stay empty though there is no usual choice.</param>
/// <param name="Help">A sentence of help, or null.</param>
public sealed record ChoiceInput<T>(string Key, string Label, IReadOnlyList<(T Value, string Label)> Words, T? Usual = null, bool Optional = false, string? Help = null)
    : ChoiceInput(Key, Label, Help)
    where T : struct, Enum
{
    /// <inheritdoc/>
    public override bool IsOptional => Optional || Usual is not null;

    /// <inheritdoc/>
    public override IReadOnlyList<Choice> Choices => [.. Words.Select(word => new Choice(CodeOf(word.Value), word.Label))];

    /// <inheritdoc/>
    public override string? UsualText => Usual is { } usual ? CodeOf(usual) : null;

    internal override object? Read(string text)
    {
        foreach (var (value, _) in Words)
        {
            if (string.Equals(CodeOf(value), text.Trim(), StringComparison.OrdinalIgnoreCase))
            {
                return value;
            }
        }

        return null;
    }

    private static string CodeOf(T value) => string.Concat(value.ToString().Select((letter, place) =>
        char.IsUpper(letter) ? (place == 0 ? string.Empty : "-") + char.ToLowerInvariant(letter) : letter.ToString()));
}

/// <summary>A question that is answered by yes or no.</summary>
/// <param name="Key">Its name.</param>
/// <param name="Label">The question.</param>
/// <param name="Usual">The answer taken when nothing is given; null when one must be given.</param>
/// <param name="Help">A sentence of help, or null.</param>
public sealed record YesNoInput(string Key, string Label, bool? Usual = null, string? Help = null) : ChoiceInput(Key, Label, Help)
{
    /// <inheritdoc/>
    public override bool IsOptional => Usual is not null;

    /// <inheritdoc/>
    public override IReadOnlyList<Choice> Choices { get; } = [new("yes", "Yes"), new("no", "No")];

    /// <inheritdoc/>
    public override string? UsualText => Usual switch { true => "yes", false => "no", null => null };

    internal override object? Read(string text) => text.Trim().ToUpperInvariant() switch
    {
        "YES" or "TRUE" => true,
        "NO" or "FALSE" => false,
        _ => null,
    };
}
