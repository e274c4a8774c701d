namespace FermentWatch.Oenology.Worksheets;

/// <summary>One field of a worksheet.</summary>
/// <param name="Key">Its name in commands and in JSON: lower case, words joined by hyphens.</param>
/// <param name="Label">What stands beside the field, without the unit.</param>
/// <param name="Help">A sentence for who does not know what is asked, or null.</param>
public abstract record WorksheetInput(string Key, string Label, string? Help)
{
    /// <summary>Whether the field may stay empty.</summary>
    public abstract bool IsOptional { get; }

    /// <summary>What would be right, for the sentence of a fault: "a number from 0.1 to 1000 L".</summary>
    public string Allowed => AllowedWords.ToString();

    /// <summary>The same with words and values apart.</summary>
    public abstract Phrase AllowedWords { get; }

    /// <summary>The value taken when nothing is given, as it would be typed; null for none.</summary>
    public abstract string? UsualText { get; }

    /// <summary>Reads what was typed.</summary>
    /// <param name="text">Not empty.</param>
    /// <returns>The value, or null when it is not allowed.</returns>
    internal abstract object? Read(string text);
}
