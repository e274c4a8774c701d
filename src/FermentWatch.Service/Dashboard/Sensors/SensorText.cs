using System.Globalization;
using System.Resources;

namespace FermentWatch.Service.Dashboard.Sensors;

/// <summary>The words of the pages about sensors, from <c>Texts/Sensors.resx</c>.</summary>
public static class SensorText
{
    private static readonly ResourceManager Source = new("FermentWatch.Service.Texts.Sensors", typeof(SensorText).Assembly);

    /// <summary>The text with its values put in, not yet encoded for HTML.</summary>
    /// <exception cref="MissingManifestResourceException">No such key.</exception>
    public static string Of(string key, params object[] values) => string.Format(
        CultureInfo.InvariantCulture,
        Source.GetString(key, CultureInfo.InvariantCulture) ?? throw new MissingManifestResourceException($"Texts/Sensors.resx has no text '{key}'."),
        values);
}
