using System.Globalization;
using System.Resources;

namespace FermentWatch.Service.Dashboard.Gates;

/// <summary>The words of the gates, from <c>Texts/Gates.resx</c>; the evidence stands in <c>Reasons.resx</c>.</summary>
public static class GateText
{
    private static readonly ResourceManager Source = new("FermentWatch.Service.Texts.Gates", typeof(GateText).Assembly);

    /// <summary>The text with its values put in, not yet encoded for HTML.</summary>
    /// <exception cref="MissingManifestResourceException">No such key.</exception>
    public static string Of(string key, params object[] values) => string.Format(
        CultureInfo.InvariantCulture,
        Source.GetString(key, CultureInfo.InvariantCulture) ?? throw new MissingManifestResourceException($"Texts/Gates.resx has no text '{key}'."),
        values);
}
