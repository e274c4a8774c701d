using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;

namespace FermentWatch.Oenology.Tests;

/// <summary>Reads a table of ReferenceData: lines that begin with # are remarks, fields may be quoted.</summary>
internal static class ReferenceTable
{
    public static IReadOnlyList<ReferenceRow> Read(string fileName)
    {
        var path = Path.Combine(AppContext.BaseDirectory, "ReferenceData", fileName);
        var lines = File.ReadAllLines(path, Encoding.UTF8).Where(line => line.Length > 0 && line[0] != '#').ToList();
        var header = Fields(lines[0]);
        Assert.Equal(["id", "quantity", "inputs", "expected", "unit", "tolerance", "source", "status"], header);
        return [.. lines.Skip(1).Select(line => Parsed(line, fileName))];
    }

    /// <summary>The row with an id.</summary>
    public static ReferenceRow Row(string table, string id) => Assert.Single(Read(table), row => row.Id == id);

    private static ReferenceRow Parsed(string line, string fileName)
    {
        var fields = Fields(line);
        Assert.True(fields.Count == 8, $"{fileName}: 8 fields are needed, {fields.Count} found in: {line}");
        var inputs = fields[2].Split(';', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries)
            .Select(pair => pair.Split('=', 2))
            .Where(pair => pair.Length == 2)
            .ToDictionary(pair => pair[0].Trim(), pair => pair[1].Trim(), StringComparer.Ordinal);
        return new(fields[0], fields[1], inputs, fields[3], fields[4], fields[5], fields[6], fields[7]);
    }

    private static List<string> Fields(string line)
    {
        var fields = new List<string>();
        var field = new StringBuilder();
        var quoted = false;
        for (var i = 0; i < line.Length; i++)
        {
            var c = line[i];
            if (c == '"' && quoted && i + 1 < line.Length && line[i + 1] == '"')
            {
                field.Append('"');
                i++;
            }
            else if (c == '"')
            {
                quoted = !quoted;
            }
            else if (c == ',' && !quoted)
            {
                fields.Add(field.ToString());
                field.Clear();
            }
            else
            {
                field.Append(c);
            }
        }

        fields.Add(field.ToString());
        return fields;
    }
}

/// <summary>One check: inputs, what must come out, how near, and who says so.</summary>
internal sealed partial record ReferenceRow(
    string Id,
    string Quantity,
    IReadOnlyDictionary<string, string> Inputs,
    string Expected,
    string Unit,
    string Tolerance,
    string Source,
    string Status)
{
    /// <summary>Whether the value comes from elsewhere than the formula under test.</summary>
    public bool IsIndependent => Status == "confirmed"
        && !Source.StartsWith("computed", StringComparison.Ordinal)
        && !Source.Contains("formula", StringComparison.Ordinal)
        && !Source.Contains("implementation docs", StringComparison.Ordinal);

    /// <summary>The value as it stands in the table; reading it counts as use of the row.</summary>
    public string Expected { get => ReferenceUse.Looked(Id, field); } = Expected;

    /// <summary>Whether the row states how near a number must be, as a number or as a percentage; otherwise it is a figure, a bound or words.</summary>
    public bool HasNumericTolerance => double.TryParse(Tolerance.Split(' ')[0], NumberStyles.Float, CultureInfo.InvariantCulture, out _);

    public double Input(string name) => double.Parse(Inputs[name], NumberStyles.Float, CultureInfo.InvariantCulture);

    public double ExpectedNumber => double.Parse(ReferenceUse.Compared(Id, Expected), NumberStyles.Float, CultureInfo.InvariantCulture);

    /// <summary>Every number of the value, in order: the ends of a range, the members of a list. A hyphen stands between, it is no sign.</summary>
    public IReadOnlyList<double> Numbers =>
        [.. UnsignedNumber().Matches(ReferenceUse.Compared(Id, Expected)).Select(match => double.Parse(match.Value, CultureInfo.InvariantCulture))];

    public double ToleranceNumber => double.Parse(Tolerance, NumberStyles.Float, CultureInfo.InvariantCulture);

    [GeneratedRegex(@"\d+(?:\.\d+)?")]
    private static partial Regex UnsignedNumber();
}
