using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Texts;

namespace FermentWatch.Service.Dashboard.Listening;

/// <summary>The words of the listening list, from <c>Texts/Listening.resx</c>.</summary>
internal static class ListeningText
{
    private static readonly TextSource Source = new("Listening");

    public static string Of(string key, params object[] values) => Source.Of(key, values);

    public static string Of(QuantityKind quantity) => Of("quantity-" + (int)quantity);

    public static string Of(Placement placement) => Of("placement-" + (int)placement);
}
