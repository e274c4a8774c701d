using System.Globalization;

namespace FermentWatch.Service.Dashboard;

/// <summary>Examples on the page for connecting a sensor. A test reads the configuration with the service's own reader.</summary>
public static class ConnectSamples
{
    /// <summary>A mapping of one topic and a batch that uses it.</summary>
    public const string Configuration =
        """
        {
          "topics": [
            {
              "sensor": "float-1",
              "filter": "cellar/float-1/state",
              "fields": [
                { "pointer": "/gravity", "quantity": "gravity", "unit": "SG" },
                { "pointer": "/warmth", "quantity": "temperature", "unit": "°C" }
              ]
            }
          ]
        }
        """;

    /// <summary>A command that sends one reading.</summary>
    public static string Publish(DashboardOptions options)
    {
        ArgumentNullException.ThrowIfNull(options);
        return string.Create(
            CultureInfo.InvariantCulture,
            $$"""mosquitto_pub -h {{options.BrokerHost}} -p {{options.BrokerPort}} -q 1 -t cellar/float-1/state -m '{"gravity": 1.092, "warmth": 19.4}'""");
    }
}
