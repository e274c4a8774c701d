using System.Globalization;

namespace FermentWatch.Service.Configuration;

/// <summary>The given values, asked for by setting. Collects what is wrong instead of stopping at the first.</summary>
internal sealed class SettingValues
{
    private readonly Dictionary<string, GivenValue> _values = new(StringComparer.OrdinalIgnoreCase);
    private readonly List<string> _errors;

    /// <summary>Takes values; a later one of the same key wins. Names that no setting has are errors.</summary>
    public SettingValues(IEnumerable<GivenValue> given, List<string> errors)
    {
        _errors = errors;
        var settings = SettingCatalog.All.ToDictionary(setting => setting.Key, StringComparer.OrdinalIgnoreCase);
        foreach (var value in given)
        {
            var (pattern, entries) = PatternOf(value.Key);
            if (settings.TryGetValue(pattern, out var setting))
            {
                _values[setting.KeyAt([.. entries])] = value;
            }
            else
            {
                _errors.Add($"{value.Key} ({value.Origin}) is no setting; the nearest is {Nearest(pattern, entries)}. 'fermentwatch settings' lists all.");
            }
        }
    }

    /// <summary>How many errors there are so far.</summary>
    public int ErrorCount => _errors.Count;

    /// <summary>Numbers of the entries of a list that have any value, in order.</summary>
    public IReadOnlyList<int> Entries(string list)
    {
        var prefix = list + ":";
        return [.. _values.Keys
            .Where(key => key.StartsWith(prefix, StringComparison.OrdinalIgnoreCase))
            .Select(key => key[prefix.Length..].Split(':')[0])
            .Distinct()
            .Select(entry => int.Parse(entry, NumberStyles.None, CultureInfo.InvariantCulture))
            .Order()];
    }

    /// <summary>Whether a setting is given.</summary>
    public bool Has(Setting setting, params ReadOnlySpan<int> entries) => _values.ContainsKey(setting.KeyAt(entries));

    /// <summary>The value; on an error, which is collected, the default.</summary>
    public T Get<T>(Setting<T> setting, params ReadOnlySpan<int> entries)
    {
        var key = setting.KeyAt(entries);
        if (!_values.TryGetValue(key, out var given))
        {
            if (setting.Required)
            {
                _errors.Add($"{key} is missing: give {setting.Allowed}, such as {Quote(setting.Example)}.");
            }
        }
        else if (setting.Read(given.Text) is { Ok: true } parsed)
        {
            return parsed.Value!;
        }
        else
        {
            Refuse(setting, setting.Read(given.Text).Because, entries);
        }

        return setting.Default is { } standard ? standard() : default!;
    }

    /// <summary>What was given, without secrets, names and addresses of people, and what an address carries behind its path.</summary>
    public IReadOnlyList<GivenSetting> Told() => [.. _values.OrderBy(pair => pair.Key, StringComparer.Ordinal).Select(pair =>
        new GivenSetting(pair.Key, IsPrivate(pair.Key) ? null : WithoutQuery(pair.Value.Text), pair.Value.Origin))];

    /// <summary>The secrets among what was given, longest first.</summary>
    public IReadOnlyList<string> Secrets() =>
        [.. _values.Where(pair => SettingOf(pair.Key).Secret && pair.Value.Text.Length > 0).Select(pair => pair.Value.Text).OrderByDescending(text => text.Length)];

    /// <summary>Collects that a value is not usable, with what would be right.</summary>
    public void Refuse(Setting setting, string? because, params ReadOnlySpan<int> entries)
    {
        var given = _values.GetValueOrDefault(setting.KeyAt(entries));
        var shown = given is null ? "is not given" : setting.Secret ? $"({given.Origin}) cannot be used" : $"is {Quote(given.Text)} ({given.Origin})";
        var why = string.IsNullOrEmpty(because) ? string.Empty : $" {because}";
        _errors.Add($"{setting.KeyAt(entries)} {shown}: give {setting.Allowed}, such as {Quote(setting.Example)}.{why}");
    }

    /// <summary>Collects an error in its own words.</summary>
    public void Add(string error) => _errors.Add(error);

    private static Setting SettingOf(string key) => SettingCatalog.All.First(setting => setting.Key.Equals(PatternOf(key).Pattern, StringComparison.OrdinalIgnoreCase));

    private static bool IsPrivate(string key)
    {
        var setting = SettingOf(key);
        Setting[] ofPeople = [NoticeCatalog.RelayTemplate, MailCatalog.User, MailCatalog.From, MailCatalog.To, BrokerCatalog.ExternalUser];
        return setting.Secret || ofPeople.Contains(setting);
    }

    private static string WithoutQuery(string text) =>
        Uri.TryCreate(text, UriKind.Absolute, out var address) && address.Query.Length > 0 ? address.GetLeftPart(UriPartial.Path) + "?…" : text;

    private static (string Pattern, IReadOnlyList<int> Entries) PatternOf(string key)
    {
        var entries = new List<int>();
        var pattern = string.Empty;
        foreach (var name in key.Split(':'))
        {
            if (pattern.Length > 0 && int.TryParse(name, NumberStyles.None, CultureInfo.InvariantCulture, out var entry))
            {
                entries.Add(entry);
                pattern += "[]";
            }
            else
            {
                pattern += pattern.Length == 0 ? name : $":{name}";
            }
        }

        return (pattern, entries);
    }

    private static string Nearest(string pattern, IReadOnlyList<int> entries)
    {
        var nearest = NearestName.Of(pattern, [.. SettingCatalog.All.Select(setting => setting.Key)]);
        var setting = SettingCatalog.All.First(candidate => candidate.Key == nearest);
        return setting.KeyAt([.. Enumerable.Range(0, 4).Select(level => entries.ElementAtOrDefault(level))]);
    }

    private static string Quote(string text)
    {
        var line = new string([.. text.Take(80).Select(character => char.IsControl(character) ? '\uFFFD' : character)]);
        return $"'{line}{(text.Length > 80 ? "…" : string.Empty)}'";
    }
}
