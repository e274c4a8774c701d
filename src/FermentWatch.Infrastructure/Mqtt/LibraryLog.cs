using Microsoft.Extensions.Logging;
using MQTTnet.Diagnostics.Logger;

namespace FermentWatch.Infrastructure.Mqtt;

/// <summary>Passes warnings and errors of the MQTT library on to our log; its chatter stays out.</summary>
internal sealed class LibraryLog(ILogger logger) : IMqttNetLogger
{
    public bool IsEnabled => true;

    public void Publish(MqttNetLogLevel logLevel, string source, string message, object[] parameters, Exception exception)
    {
        // A device that drops its connection is daily life, not an error of this service.
        var level = logLevel switch
        {
            MqttNetLogLevel.Error => LogLevel.Warning,
            MqttNetLogLevel.Warning => LogLevel.Debug,
            _ => LogLevel.None,
        };
        if (level != LogLevel.None && logger.IsEnabled(level))
        {
            var text = parameters is { Length: > 0 } ? string.Format(System.Globalization.CultureInfo.InvariantCulture, message, parameters) : message;
            logger.Log(level, exception, "{Source}: {Text}", source, text);
        }
    }
}
