namespace FermentWatch.Service.Configuration;

/// <summary>One setting: what stands in the catalogue.</summary>
public abstract record Setting
{
    /// <summary>Path of names joined by ':', with '[]' behind the name of a list, such as <c>Topics[]:Filter</c>.</summary>
    public required string Key { get; init; }

    /// <summary>What it does.</summary>
    public required string Meaning { get; init; }

    /// <summary>What counts when it is not given; 'required' when it must be.</summary>
    public required string DefaultText { get; init; }

    /// <summary>What may be given; follows the word 'give' in an error.</summary>
    public required string Allowed { get; init; }

    /// <summary>A value that is taken.</summary>
    public required string Example { get; init; }

    /// <summary>Whether the value must never be printed.</summary>
    public bool Secret { get; init; }

    /// <summary>Whether it must be given.</summary>
    public bool Required => DefaultText == "required";

    /// <summary>The key for entries of its lists, such as <c>Topics:0:Filter</c>.</summary>
    internal string KeyAt(params ReadOnlySpan<int> entries)
    {
        var parts = Key.Split("[]");
        var key = parts[0];
        for (var i = 1; i < parts.Length; i++)
        {
            key += string.Create(System.Globalization.CultureInfo.InvariantCulture, $":{entries[i - 1]}{parts[i]}");
        }

        return key;
    }

    /// <summary>Why a text is no value of this setting; null when it is one.</summary>
    internal abstract string? ProblemOf(string text);
}

/// <summary>A setting with the type of its value.</summary>
/// <typeparam name="T">The value.</typeparam>
internal sealed record Setting<T> : Setting
{
    /// <summary>What counts when it is not given.</summary>
    public Func<T>? Default { get; init; }

    /// <summary>Turns the text into the value.</summary>
    public required Func<string, Parsed<T>> Read { get; init; }

    internal override string? ProblemOf(string text) => Read(text) is { Ok: false } parsed ? parsed.Because ?? string.Empty : null;
}

/// <summary>A value read from text, or why it is none; the reason may be empty when the catalogue's words say enough.</summary>
internal readonly record struct Parsed<T>(bool Ok, T? Value, string? Because = null)
{
    public Parsed<TOther> Then<TOther>(Func<T, TOther> with) => Ok ? new(true, with(Value!)) : new(false, default, Because);
}
