using FermentWatch.Service.Texts;

namespace FermentWatch.Service.Dashboard.Sensors;

/// <summary>The words of the pages about sensors, from <c>Texts/Sensors.resx</c>.</summary>
public static class SensorText
{
    private static readonly TextSource Source = new("Sensors");

    /// <summary>The text with its values put in, not yet encoded for HTML.</summary>
    /// <exception cref="System.Resources.MissingManifestResourceException">No such key.</exception>
    public static string Of(string key, params object[] values) => Source.Of(key, values);
}
