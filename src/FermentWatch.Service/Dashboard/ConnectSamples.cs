using System.Globalization;

namespace FermentWatch.Service.Dashboard;

/// <summary>Examples on the page for connecting a sensor. A test reads the configuration with the service's own reader.</summary>
public static class ConnectSamples
{
    /// <summary>A mapping of one topic and a batch that uses it.</summary>
    public const string Configuration =
        """
        {
          "Topics": [
            {
              "Sensor": "float-1",
              "Filter": "cellar/float-1/state",
              "Fields": [
                { "Pointer": "/gravity", "Quantity": "gravity", "Unit": "SG" },
                { "Pointer": "/warmth", "Quantity": "temperature", "Unit": "°C" }
              ]
            }
          ],
          "Batches": [
            {
              "Id": "plum-1",
              "Name": "Plum wine",
              "Kind": "wine",
              "Inoculated": "2026-09-20T18:30:00+02:00",
              "OriginalGravity": 1.092,
              "BandLowCelsius": 16,
              "BandHighCelsius": 22,
              "Sensors": [ { "Sensor": "float-1" } ]
            }
          ]
        }
        """;

    /// <summary>A command that sends one reading.</summary>
    public static string Publish(BrokerWay way)
    {
        ArgumentNullException.ThrowIfNull(way);
        return string.Create(
            CultureInfo.InvariantCulture,
            $$"""mosquitto_pub -h {{way.Host}} -p {{way.Port}} -q 1 -t cellar/float-1/state -m '{"gravity": 1.092, "warmth": 19.4}'""");
    }
}
