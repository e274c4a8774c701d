using System.Globalization;
using FermentWatch.Infrastructure.Mqtt;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Configuration;

namespace FermentWatch.Service.Pipeline;

/// <summary>Says how the broker is. The codes have their words in <c>Texts/Reasons.resx</c>.</summary>
internal static class BrokerWords
{
    public static Reason Of(BrokerSettings settings, EmbeddedBrokerStatus? embedded, ExternalBrokerStatus? external)
    {
        if (embedded is not null)
        {
            return embedded.Problem ?? (embedded.Listening is { } at
                ? Reason.Of("broker-listening", new ReasonValue.Name(at.ToString()))
                : Reason.Of("broker-starting"));
        }

        if (external is null || settings.External is not { } there)
        {
            return Reason.Of("broker-starting");
        }

        var place = new ReasonValue.Name(string.Create(CultureInfo.InvariantCulture, $"{there.Host}:{there.Port}"));
        return external switch
        {
            { Problem: { } problem } => problem,
            { State: BrokerConnectionState.Connected } => Reason.Of("broker-connected", place),
            { State: BrokerConnectionState.WaitingToReconnect or BrokerConnectionState.Refused } =>
                Reason.Of("broker-lost", place, new ReasonValue.Moment(new EventTime(external.Since.UnixMicroseconds))),
            _ => Reason.Of("broker-connecting", place),
        };
    }
}
