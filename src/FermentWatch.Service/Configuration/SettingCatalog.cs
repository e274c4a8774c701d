using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Service.Configuration;

/// <summary>Every setting there is, in the order in which they are shown. What is not here cannot be set.</summary>
public static class SettingCatalog
{
    /// <summary>The settings.</summary>
    public static ValueList<Setting> All { get; } = ValueList.Of<Setting>(
        PageCatalog.PageAddress,
        PageCatalog.PagePathBase,
        PageCatalog.PageBaseUrl,
        PageCatalog.PageZone,
        PageCatalog.PageCellarName,
        BrokerCatalog.Mode,
        BrokerCatalog.EmbeddedAddress,
        BrokerCatalog.EmbeddedPort,
        BrokerCatalog.ExternalHost,
        BrokerCatalog.ExternalPort,
        BrokerCatalog.ExternalUser,
        BrokerCatalog.ExternalPassword,
        BrokerCatalog.ExternalPasswordFile,
        BrokerCatalog.ExternalTls,
        BrokerCatalog.ExternalAuthorityFile,
        BrokerCatalog.ExternalClientId,
        TopicsCatalog.TopicSensor,
        TopicsCatalog.TopicFilterText,
        TopicsCatalog.FieldPointer,
        TopicsCatalog.FieldQuantity,
        TopicsCatalog.FieldUnit,
        TopicsCatalog.TimePointer,
        TopicsCatalog.TimeFormatWord,
        BatchesCatalog.BatchId,
        BatchesCatalog.BatchName,
        BatchesCatalog.BatchKind,
        BatchesCatalog.BatchVessel,
        BatchesCatalog.BatchVolume,
        BatchesCatalog.BatchInoculated,
        BatchesCatalog.BatchOriginalGravity,
        BatchesCatalog.BatchBandLow,
        BatchesCatalog.BatchBandHigh,
        BatchesCatalog.BatchTolerance,
        BatchesCatalog.AttachedSensor,
        BatchesCatalog.AttachedFrom,
        BatchesCatalog.AttachedUntil,
        BatchesCatalog.AttachedPlacement,
        NoticeCatalog.RelayUrl,
        NoticeCatalog.RelayToken,
        NoticeCatalog.RelayTemplate,
        NoticeCatalog.RelayPriorities,
        NoticeCatalog.QuietFrom,
        NoticeCatalog.QuietUntil,
        NoticeCatalog.SilentTemperatureIntervals,
        NoticeCatalog.SilentTemperatureHours,
        NoticeCatalog.SilentGravityIntervals,
        NoticeCatalog.SilentGravityHours,
        NoticeCatalog.InboxDays,
        NoticeCatalog.InboxMegabytes);
}
