using System.Globalization;
using System.Resources;

namespace FermentWatch.Service.Dashboard.Bench;

/// <summary>The words of the bench, from <c>Texts/Bench.resx</c>. A worksheet's own words stand in its catalogue entry.</summary>
public static class BenchText
{
    private static readonly ResourceManager Source = new("FermentWatch.Service.Texts.Bench", typeof(BenchText).Assembly);

    /// <summary>The text with its values put in, not yet encoded for HTML.</summary>
    /// <exception cref="MissingManifestResourceException">No such key.</exception>
    public static string Of(string key, params object[] values) => string.Format(
        CultureInfo.InvariantCulture,
        Source.GetString(key, CultureInfo.InvariantCulture) ?? throw new MissingManifestResourceException($"Texts/Bench.resx has no text '{key}'."),
        values);
}
