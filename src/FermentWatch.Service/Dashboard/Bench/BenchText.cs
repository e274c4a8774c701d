using FermentWatch.Service.Texts;

namespace FermentWatch.Service.Dashboard.Bench;

/// <summary>The words of the bench, from <c>Texts/Bench.resx</c>. A worksheet's own words stand in its catalogue entry and their translations in <c>Texts/Worksheets.CODE.resx</c>.</summary>
public static class BenchText
{
    private static readonly TextSource Source = new("Bench");

    /// <summary>The text with its values put in, not yet encoded for HTML.</summary>
    /// <exception cref="System.Resources.MissingManifestResourceException">No such key.</exception>
    public static string Of(string key, params object[] values) => Source.Of(key, values);
}
