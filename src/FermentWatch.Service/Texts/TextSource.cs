using System.Collections.Concurrent;
using System.Resources;

namespace FermentWatch.Service.Texts;

/// <summary>One resource file of words, under <c>Texts/</c>, in the language that is being spoken; English where that has no such text.</summary>
/// <param name="name">Its name without the ending.</param>
internal sealed class TextSource(string name)
{
    private static readonly ConcurrentDictionary<string, ResourceManager> Files = new(StringComparer.Ordinal);

    private readonly ResourceManager _resources = Files.GetOrAdd(
        name, static name => new ResourceManager("FermentWatch.Service.Texts." + name, typeof(TextSource).Assembly));

    /// <summary>The text with its values put in, not yet encoded for HTML.</summary>
    /// <exception cref="MissingManifestResourceException">No such key.</exception>
    public string Of(string key, params object[] values) => Language.Present.Joined(string.Format(
        PluralForms.Present, Find(key) ?? throw new MissingManifestResourceException($"Texts/{name}.resx has no text '{key}'."), values));

    /// <summary>The text, or null where there is none.</summary>
    public string? Find(string key)
    {
        var language = Language.Present;
        var text = _resources.GetString(key, language.Culture);
        return text is null || language.Change is null ? text : language.Change(text);
    }
}
