using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using System.Text.Json;

namespace FermentWatch.Monitoring.Telemetry;

/// <summary>A JSON Pointer: names one value inside a JSON text, such as <c>/readings/0/gravity</c>.</summary>
/// <remarks>
/// <para>The empty pointer is the whole text. In a name, <c>~1</c> stands for a slash and <c>~0</c> for a tilde.</para>
/// <para><b>Source.</b> RFC 6901. Where that leaves a name that occurs twice undefined, the value counts as ambiguous and is not taken.</para>
/// </remarks>
public sealed record JsonPointer
{
    private JsonPointer(string text, IEnumerable<string> tokens)
    {
        Text = text;
        Tokens = ValueList.Of(tokens);
    }

    /// <summary>The pointer as it was written.</summary>
    public string Text { get; }

    private ValueList<string> Tokens { get; }

    /// <summary>Reads a pointer.</summary>
    /// <exception cref="FormatException">It breaks a rule of RFC 6901; the message says which.</exception>
    public static JsonPointer Parse(string text) =>
        TryParse(text, out var parsed, out var problem) ? parsed : throw new FormatException(problem);

    /// <summary>Reads a pointer, or says in <paramref name="problem"/> which rule it breaks.</summary>
    public static bool TryParse(string text, [NotNullWhen(true)] out JsonPointer? parsed, [NotNullWhen(false)] out string? problem)
    {
        ArgumentNullException.ThrowIfNull(text);
        parsed = null;
        problem = null;
        if (text.Length == 0)
        {
            parsed = new JsonPointer(text, []);
            return true;
        }

        if (text[0] != '/')
        {
            problem = "A JSON Pointer is empty or begins with '/', such as '/gravity'.";
            return false;
        }

        for (var i = text.IndexOf('~', StringComparison.Ordinal); i >= 0; i = text.IndexOf('~', i + 1))
        {
            if (i + 1 >= text.Length || text[i + 1] is not ('0' or '1'))
            {
                problem = "In a JSON Pointer '~' is written '~0' and a slash inside a name '~1'.";
                return false;
            }
        }

        // The order matters: ~01 is the name '~1', not '/'.
        parsed = new JsonPointer(text, text[1..].Split('/').Select(token => token
            .Replace("~1", "/", StringComparison.Ordinal)
            .Replace("~0", "~", StringComparison.Ordinal)));
        return true;
    }

    /// <inheritdoc/>
    public override string ToString() => Text;

    /// <summary>Finds the value, or says why there is none.</summary>
    internal bool TryFind(JsonElement root, out JsonElement found, [NotNullWhen(false)] out Reason? why)
    {
        found = root;
        why = null;
        foreach (var token in Tokens)
        {
            var count = found.ValueKind switch
            {
                JsonValueKind.Object => Member(found, token, out found),
                JsonValueKind.Array => Item(found, token, out found),
                _ => 0,
            };
            if (count != 1)
            {
                why = count == 0
                    ? Reason.Of(DecodeReasons.FieldMissing, new ReasonValue.Name(Text))
                    : Reason.Of(DecodeReasons.FieldAmbiguous, new ReasonValue.Name(Text), Quoted.Value(token));
                return false;
            }
        }

        return true;
    }

    private static int Member(JsonElement of, string name, out JsonElement found)
    {
        var count = 0;
        found = default;
        foreach (var property in of.EnumerateObject())
        {
            if (IsNamed(property, name))
            {
                count++;
                found = property.Value;
            }
        }

        return count;
    }

    private static int Item(JsonElement of, string token, out JsonElement found)
    {
        found = default;
        var wellFormed = token == "0" || (token.Length > 0 && token[0] != '0' && token.All(char.IsAsciiDigit));
        if (!wellFormed
            || !int.TryParse(token, NumberStyles.None, CultureInfo.InvariantCulture, out var index)
            || index >= of.GetArrayLength())
        {
            return 0;
        }

        found = of[index];
        return 1;
    }

    /// <summary>A name with half of an escaped surrogate pair is legal JSON that no text can equal; the library throws on it.</summary>
    private static bool IsNamed(JsonProperty property, string name)
    {
        try
        {
            return property.NameEquals(name);
        }
        catch (InvalidOperationException)
        {
            return false;
        }
    }
}
