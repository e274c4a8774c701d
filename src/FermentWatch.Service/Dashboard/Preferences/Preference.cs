using FermentWatch.Service.Configuration;

namespace FermentWatch.Service.Dashboard.Preferences;

/// <summary>One value that a reader may choose.</summary>
/// <param name="Name">Name under which it is kept, without the prefix; also of its field and its words.</param>
/// <param name="Text">Its text in a set.</param>
/// <param name="Read">Puts a text into a set; a problem says what is wrong.</param>
internal sealed record Preference(string Name, Func<PreferenceSet, string> Text, Func<PreferenceSet, string, Parsed<PreferenceSet>> Read)
{
    /// <summary>Texts among which to choose; empty where it is typed.</summary>
    public IReadOnlyList<string> Choices { get; init; } = [];

    /// <summary>Type of the HTML field where it is typed.</summary>
    public string Type { get; init; } = "text";

    /// <summary>Whether the configuration says it too, which then counts while nothing is chosen.</summary>
    public bool IsConfigured { get; init; }

    /// <summary>Name under which the store keeps it.</summary>
    public string Key => PreferenceCatalog.Prefix + Name;

    /// <summary>A choice among words.</summary>
    public static Preference Choice<T>(
        string name, Func<PreferenceSet, T> get, Func<PreferenceSet, T, PreferenceSet> with, params ReadOnlySpan<(string Word, T Value)> words)
        where T : struct, Enum
    {
        var all = words.ToArray();
        return new Preference(
            name,
            set => all.First(word => word.Value.Equals(get(set))).Word,
            (set, text) => all.Where(word => word.Word == text).Select(word => new Parsed<PreferenceSet>(true, with(set, word.Value))).FirstOrDefault())
        {
            Choices = [.. all.Select(word => word.Word)],
        };
    }

    /// <summary>A choice among words that a catalogue of its own holds.</summary>
    public static Preference Word<T>(
        string name, Func<PreferenceSet, string> get, Func<PreferenceSet, T, PreferenceSet> with, Func<string, T?> find, IEnumerable<string> words)
        where T : class => new(name, get, (set, text) => find(text) is { } value ? new(true, with(set, value)) : default)
        {
            Choices = [.. words],
        };

    /// <summary>A value that the configuration knows too, read as it is read there.</summary>
    public static Preference Typed<T>(
        string name, string type, Func<PreferenceSet, string> text, Func<PreferenceSet, T, PreferenceSet> with, Func<string, Parsed<T>> read) => new(
        name,
        text,
        (set, typed) => read(typed) is { Ok: true } parsed ? new(true, with(set, parsed.Value!)) : new(false, null, read(typed).Because))
        {
            Type = type,
            IsConfigured = true,
        };
}

/// <summary>Preferences that are chosen together.</summary>
/// <param name="Id">Last part of the form's address; also of its words.</param>
/// <param name="Fields">Its fields.</param>
internal sealed record PreferenceForm(string Id, IReadOnlyList<Preference> Fields);
