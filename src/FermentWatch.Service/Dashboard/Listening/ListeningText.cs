using System.Globalization;
using System.Resources;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Service.Dashboard.Listening;

/// <summary>The words of the listening list, from <c>Texts/Listening.resx</c>.</summary>
internal static class ListeningText
{
    private static readonly ResourceManager Source = new("FermentWatch.Service.Texts.Listening", typeof(ListeningText).Assembly);

    public static string Of(string key, params object[] values) => string.Format(
        CultureInfo.InvariantCulture,
        Source.GetString(key, CultureInfo.InvariantCulture) ?? throw new MissingManifestResourceException($"Texts/Listening.resx has no text '{key}'."),
        values);

    public static string Of(QuantityKind quantity) => Of("quantity-" + (int)quantity);

    public static string Of(Placement placement) => Of("placement-" + (int)placement);
}
