using System.Globalization;
using System.Net;
using System.Text.Json;
using System.Text.RegularExpressions;
using FermentWatch.Infrastructure.Notifiers;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Service.Configuration;

/// <summary>From the text of a setting to its value. Nothing here depends on the language of the machine.</summary>
internal static partial class SettingReaders
{
    public static Func<string, Parsed<string>> Text(int shortest, int longest) => text =>
        text.Length >= shortest && text.Length <= longest && !text.Any(char.IsControl) && (shortest == 0 || !string.IsNullOrWhiteSpace(text))
            ? new(true, text)
            : new(false, null);

    public static Func<string, Parsed<string>> Word(int shortest, int longest) => text =>
        text.Length >= shortest && text.Length <= longest && text.All(character => char.IsAsciiLetterOrDigit(character) || character is '-' or '_')
            ? new(true, text)
            : new(false, null);

    public static Func<string, Parsed<int>> Whole(int lowest, int highest) => text =>
        int.TryParse(text, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var number) && number >= lowest && number <= highest
            ? new(true, number)
            : new(false, 0);

    public static Func<string, Parsed<double>> Number(double lowest, double highest) => text =>
        double.TryParse(text, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var number) && number >= lowest && number <= highest
            ? new(true, number)
            : new(false, 0, text.Contains(',', StringComparison.Ordinal) ? "Write a decimal point, not a comma." : null);

    public static Func<string, Parsed<bool>> YesOrNo() => text =>
        bool.TryParse(text, out var value) ? new(true, value) : new(false, false);

    public static Func<string, Parsed<T>> Word<T>(IReadOnlyDictionary<string, T> words) => text =>
        words.TryGetValue(text.Trim(), out var value) ? new(true, value) : new(false, default);

    public static Func<string, Parsed<T?>> Optional<T>(Func<string, Parsed<T>> read)
        where T : struct => text => read(text).Then<T?>(value => value);

    public static Func<string, Parsed<T?>> OptionalText<T>(Func<string, Parsed<T>> read)
        where T : class => text => read(text).Then<T?>(value => value);

    public static Parsed<EventTime> Moment(string text)
    {
        if (IsoTime.Read(text, out var code) is { } time)
        {
            return time.ToDateTimeOffset().Year is >= 2000 and < 2100 ? new(true, time) : new(false, default);
        }

        return new(false, default, code == DecodeReasons.TimeWithoutOffset ? "Say which zone is meant: put Z (UTC) or an offset such as +02:00 behind it." : null);
    }

    public static Parsed<TimeOnly> TimeOfDay(string text) =>
        TimeOnly.TryParseExact(text, "HH:mm", CultureInfo.InvariantCulture, DateTimeStyles.None, out var time) ? new(true, time) : new(false, default);

    public static Parsed<TimeZoneInfo> Zone(string text)
    {
        if (TimeZoneInfo.TryFindSystemTimeZoneById(text, out var zone) && zone.HasIanaId)
        {
            return new(true, zone);
        }

        var known = TimeZoneInfo.GetSystemTimeZones().Select(other => other.Id).ToList();
        return new(false, null, known.Count == 0 ? "This machine has no time zone data (package tzdata)." : $"The nearest known zone is '{NearestName.Of(text, known)}'.");
    }

    /// <summary>Whether it may be beyond this machine is known only when the store is open: see <see cref="Access.ListeningRule"/>.</summary>
    public static Parsed<Uri> PageAddress(string text) =>
        Uri.TryCreate(text, UriKind.Absolute, out var address)
        && address.Scheme == Uri.UriSchemeHttp
        && address.PathAndQuery == "/"
        && address.Fragment.Length == 0
        && address.UserInfo.Length == 0
        && (address.IsLoopback || IPAddress.TryParse(address.Host.Trim('[', ']'), out _))
            ? new(true, address)
            : new(false, null);

    /// <summary>Whether it may be beyond this machine is known only when the store is open: see <see cref="Access.ListeningRule"/>.</summary>
    public static Parsed<IPAddress> BrokerAddress(string text) => IPAddress.TryParse(text, out var address) ? new(true, address) : new(false, null);

    public static Parsed<ValueList<IPNetwork>> Networks(string text)
    {
        var networks = new List<IPNetwork>();
        foreach (var part in text.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))
        {
            if (IPNetwork.TryParse(part, out var network))
            {
                networks.Add(network);
            }
            else if (IPAddress.TryParse(part, out var address))
            {
                networks.Add(new IPNetwork(address, address.GetAddressBytes().Length * 8));
            }
            else
            {
                return new(false, null, $"'{part}' is neither an address nor a network, whose address must end in zeros behind its length.");
            }
        }

        // A network of everybody would believe everybody.
        return networks.Count is >= 1 and <= 20 && networks.All(network => network.PrefixLength > 0) ? new(true, ValueList.Of<IPNetwork>(networks)) : new(false, null);
    }

    public static Parsed<Uri> WebAddress(string text) =>
        Uri.TryCreate(text, UriKind.Absolute, out var address)
        && (address.Scheme == Uri.UriSchemeHttp || address.Scheme == Uri.UriSchemeHttps)
        && address.UserInfo.Length == 0
        && address.Fragment.Length == 0
            ? new(true, address)
            : new(false, null);

    public static Parsed<string> PathBase(string text) =>
        text.Length == 0 || (text.Length <= 200 && text[0] == '/' && text[^1] != '/' && !text.Contains("//", StringComparison.Ordinal)
            && text.All(character => char.IsAsciiLetterOrDigit(character) || character is '/' or '-' or '_' or '.' or '~'))
            ? new(true, text)
            : new(false, null);

    public static Parsed<string> Host(string text) =>
        text.Length <= 253 && (Uri.CheckHostName(text) is UriHostNameType.Dns or UriHostNameType.IPv4 or UriHostNameType.IPv6)
            ? new(true, text)
            : new(false, null, text.Contains('/', StringComparison.Ordinal) || text.Contains(':', StringComparison.Ordinal) ? "Give the host alone, without 'mqtt://' and without a port." : null);

    public static Parsed<string> BatchKey(string text) =>
        text.Length is >= 1 and <= 40 && text.All(character => char.IsAsciiLetterLower(character) || char.IsAsciiDigit(character) || character == '-')
            ? new(true, text)
            : new(false, null);

    public static Parsed<TopicFilter> Filter(string text) =>
        TopicFilter.TryParse(text, out var filter, out var problem) ? new(true, filter) : new(false, null, problem);

    public static Parsed<JsonPointer> FieldPointer(string text) =>
        JsonPointer.TryParse(text, out var field, out var problem) ? new(true, field) : new(false, null, problem);

    /// <summary>A JSON object with a place for the notice's words inside one of its strings.</summary>
    public static Parsed<string> Template(string text)
    {
        var used = Place().Matches(text).Select(match => match.Groups[1].Value).ToList();
        if (text.Length > 4000)
        {
            return new(false, null);
        }

        if (used.FirstOrDefault(place => !RelayTemplate.Names.Contains(place)) is { } unknown)
        {
            return new(false, null, $"There is no place {{{unknown}}}.");
        }

        try
        {
            using var json = JsonDocument.Parse(text);
            return json.RootElement.ValueKind == JsonValueKind.Object && (used.Contains("title") || used.Contains("text"))
                ? new(true, text)
                : new(false, null);
        }
        catch (JsonException)
        {
            return new(false, null, "It is not valid JSON.");
        }
    }

    public static Parsed<ValueList<string>> Priorities(string text)
    {
        var words = text.Split(',', StringSplitOptions.TrimEntries);
        return words.Length == 4 && words.All(word => word.Length is >= 1 and <= 40 && !word.Any(char.IsControl))
            ? new(true, ValueList.Of<string>(words))
            : new(false, null);
    }

    public static Parsed<string> Token(string text) =>
        text.Length is >= 1 and <= 1000 && text.All(character => character is > ' ' and <= '~') ? new(true, text) : new(false, null);

    [GeneratedRegex(@"\{([A-Za-z-]+)\}")]
    private static partial Regex Place();
}
