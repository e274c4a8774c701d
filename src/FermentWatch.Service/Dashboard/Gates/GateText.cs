using FermentWatch.Service.Texts;

namespace FermentWatch.Service.Dashboard.Gates;

/// <summary>The words of the gates, from <c>Texts/Gates.resx</c>; the evidence stands in <c>Reasons.resx</c>.</summary>
public static class GateText
{
    private static readonly TextSource Source = new("Gates");

    /// <summary>The text with its values put in, not yet encoded for HTML.</summary>
    /// <exception cref="System.Resources.MissingManifestResourceException">No such key.</exception>
    public static string Of(string key, params object[] values) => Source.Of(key, values);
}
