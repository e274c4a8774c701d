namespace FermentWatch.Service.Configuration;

/// <summary>Finds what somebody who mistyped a name most likely meant.</summary>
internal static class NearestName
{
    /// <summary>The name with the fewest single-letter changes (Levenshtein distance, capitals ignored); the first of several.</summary>
    public static string Of(string typed, IReadOnlyList<string> names) => names.MinBy(name => Distance(typed, name)) ?? typed;

    private static int Distance(string from, string to)
    {
        var left = from.ToUpperInvariant();
        var right = to.ToUpperInvariant();
        var row = Enumerable.Range(0, right.Length + 1).ToArray();
        for (var i = 1; i <= left.Length; i++)
        {
            var diagonal = row[0];
            row[0] = i;
            for (var j = 1; j <= right.Length; j++)
            {
                var change = diagonal + (left[i - 1] == right[j - 1] ? 0 : 1);
                diagonal = row[j];
                row[j] = Math.Min(change, Math.Min(row[j], row[j - 1]) + 1);
            }
        }

        return row[^1];
    }
}
