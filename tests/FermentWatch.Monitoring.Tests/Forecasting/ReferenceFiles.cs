using System.Globalization;

namespace FermentWatch.Monitoring.Tests.Forecasting;

/// <summary>Reads the copied reference data.</summary>
internal static class ReferenceFiles
{
    private static readonly Lazy<Dictionary<(string Case, string Quantity), double>> Checks = new(ReadChecks);

    public static string PathOf(params string[] parts) => Path.Combine([AppContext.BaseDirectory, "ReferenceData", .. parts]);

    /// <summary>Two columns of numbers under a header.</summary>
    public static (double[] First, double[] Second) Columns(string file)
    {
        var rows = File.ReadAllLines(PathOf("statistics", file)).Skip(1)
            .Where(line => line.Length > 0)
            .Select(line => line.Split(','))
            .ToArray();
        return ([.. rows.Select(r => Number(r[0]))], [.. rows.Select(r => Number(r[1]))]);
    }

    public static double Check(string name, string quantity) => Checks.Value[(name, quantity)];

    public static IEnumerable<(string Case, string Quantity, double Value)> ChecksStarting(string name) =>
        Checks.Value.Where(c => c.Key.Case.StartsWith(name, StringComparison.Ordinal)).Select(c => (c.Key.Case, c.Key.Quantity, c.Value));

    public static double Number(string text) => double.Parse(text, NumberStyles.Float, CultureInfo.InvariantCulture);

    private static Dictionary<(string Case, string Quantity), double> ReadChecks()
    {
        var found = new Dictionary<(string, string), double>();
        foreach (var line in File.ReadAllLines(PathOf("statistics", "check-values.csv")).Skip(1).Where(l => l.Length > 0))
        {
            var fields = Fields(line);
            found[(fields[0], fields[5])] = Number(fields[6]);
        }

        return found;
    }

    private static List<string> Fields(string line)
    {
        var (fields, field, quoted) = (new List<string>(), new System.Text.StringBuilder(), false);
        foreach (var letter in line)
        {
            if (letter == '"')
            {
                quoted = !quoted;
            }
            else if (letter == ',' && !quoted)
            {
                fields.Add(field.ToString());
                field.Clear();
            }
            else
            {
                field.Append(letter);
            }
        }

        fields.Add(field.ToString());
        return fields;
    }
}
