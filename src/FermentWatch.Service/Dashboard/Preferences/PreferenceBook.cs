using FermentWatch.Service.Dashboard.Words;

namespace FermentWatch.Service.Dashboard.Preferences;

/// <summary>What counts now: the configuration, and over it what a reader chose. A change counts at once, for pages, notices and quiet hours.</summary>
public sealed class PreferenceBook
{
    private readonly Func<IReadOnlyDictionary<string, string?>, CancellationToken, Task> _keep;
    private readonly Lock _changing = new();
    private volatile Page _page;

    /// <param name="configured">What the configuration says.</param>
    /// <param name="chosen">What was chosen, by the names under which it is kept. What cannot be read any more is passed over.</param>
    /// <param name="keep">Keeps changes; null forgets a name. A change counts only after it is kept.</param>
    public PreferenceBook(
        PreferenceSet configured, IReadOnlyDictionary<string, string> chosen, Func<IReadOnlyDictionary<string, string?>, CancellationToken, Task> keep)
    {
        ArgumentNullException.ThrowIfNull(chosen);
        (Configured, _keep) = (configured, keep);
        _page = Write(new Dictionary<string, string>(chosen, StringComparer.Ordinal));
    }

    /// <summary>What the configuration says.</summary>
    public PreferenceSet Configured { get; }

    /// <summary>What counts now.</summary>
    public PreferenceSet Present => _page.Set;

    /// <summary>Zone, units and decimal mark that count now.</summary>
    public Reader Reader => _page.Reader;

    /// <summary>Language, zone, units and decimal mark of somebody with choices of their own; whatever they did not choose, or cannot be read any more, is as in the house.</summary>
    /// <param name="own">Texts by the names of <see cref="PreferenceCatalog.Personal"/>.</param>
    public Reader ReaderOf(IReadOnlyDictionary<string, string> own)
    {
        ArgumentNullException.ThrowIfNull(own);
        var set = Present;
        foreach (var preference in PreferenceCatalog.Personal)
        {
            set = own.TryGetValue(preference.Name, out var text) && preference.Read(set, text) is { Ok: true, Value: { } chosen } ? chosen : set;
        }

        return own.Count == 0 ? Reader : new Reader(set.Zone, set.Units, set.Language);
    }

    /// <summary>Whether a reader chose this value; else the configuration counts.</summary>
    internal bool IsChosen(Preference preference) => _page.Chosen.ContainsKey(preference.Key);

    /// <summary>Keeps changes; they count as soon as this completes.</summary>
    /// <param name="changes">Texts by the names under which they are kept; null goes back to the configuration.</param>
    /// <param name="cancellationToken">Counts while the work waits for room.</param>
    /// <exception cref="Infrastructure.Storage.StorageUnavailableException">Nothing was kept and nothing changed.</exception>
    public async Task ChangeAsync(IReadOnlyDictionary<string, string?> changes, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(changes);
        await _keep(changes, cancellationToken).ConfigureAwait(false);
        lock (_changing)
        {
            var chosen = new Dictionary<string, string>(_page.Chosen, StringComparer.Ordinal);
            foreach (var (name, text) in changes)
            {
                if (text is null)
                {
                    chosen.Remove(name);
                }
                else
                {
                    chosen[name] = text;
                }
            }

            _page = Write(chosen);
        }
    }

    private Page Write(Dictionary<string, string> chosen)
    {
        var set = Configured;
        var read = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach (var preference in PreferenceCatalog.Forms.SelectMany(form => form.Fields))
        {
            if (chosen.TryGetValue(preference.Key, out var text) && preference.Read(set, text) is { Ok: true, Value: { } changed })
            {
                set = changed;
                read[preference.Key] = text;
            }
        }

        return new Page(read, set, new Reader(set.Zone, set.Units, set.Language));
    }

    private sealed record Page(Dictionary<string, string> Chosen, PreferenceSet Set, Reader Reader);
}
