using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Service.Configuration;

/// <summary>What the maker tells about each batch.</summary>
internal static class BatchesCatalog
{
    public static Setting<string> BatchId { get; } = new()
    {
        Key = "Batches[]:Id",
        Meaning = "Short key of the batch in addresses and tables; must never change.",
        DefaultText = "required",
        Allowed = "1 to 40 lower-case letters, digits and hyphens, each batch its own",
        Example = "plum-2026",
        Read = SettingReaders.BatchKey,
    };

    public static Setting<string> BatchName { get; } = new()
    {
        Key = "Batches[]:Name",
        Meaning = "Name of the batch.",
        DefaultText = "required",
        Allowed = "1 to 80 characters on one line",
        Example = "Plum wine",
        Read = SettingReaders.Text(1, 80),
    };

    public static Setting<FermentKind> BatchKind { get; } = new()
    {
        Key = "Batches[]:Kind",
        Meaning = "What is being fermented.",
        DefaultText = "required",
        Allowed = "'wine', 'mead' or 'cider'",
        Example = "wine",
        Read = SettingReaders.Word(SettingWords.Kinds),
    };

    public static Setting<string?> BatchVessel { get; } = new()
    {
        Key = "Batches[]:Vessel",
        Meaning = "What the vessel is called.",
        DefaultText = "none",
        Allowed = "1 to 80 characters on one line",
        Example = "Demijohn 3",
        Default = () => null,
        Read = SettingReaders.OptionalText(SettingReaders.Text(1, 80)),
    };

    public static Setting<double?> BatchVolume { get; } = new()
    {
        Key = "Batches[]:VolumeLiters",
        Meaning = "Volume at inoculation, in liters.",
        DefaultText = "none",
        Allowed = "a number from 0.1 to 100000, in liters",
        Example = "23",
        Default = () => null,
        Read = SettingReaders.Optional(SettingReaders.Number(0.1, 100000)),
    };

    public static Setting<EventTime> BatchInoculated { get; } = new()
    {
        Key = "Batches[]:Inoculated",
        Meaning = "When the yeast went in.",
        DefaultText = "required",
        Allowed = "a date and time from 2000 to 2099 with Z or an offset",
        Example = "2026-09-20T18:30:00+02:00",
        Read = SettingReaders.Moment,
    };

    public static Setting<double?> BatchOriginalGravity { get; } = new()
    {
        Key = "Batches[]:OriginalGravity",
        Meaning = "Gravity before fermentation by hand reading, as SG.",
        DefaultText = "none",
        Allowed = "a specific gravity from 0.98 to 1.3",
        Example = "1.092",
        Default = () => null,
        Read = SettingReaders.Optional(SettingReaders.Number(0.98, 1.3)),
    };

    public static Setting<double?> BatchBandLow { get; } = new()
    {
        Key = "Batches[]:BandLowCelsius",
        Meaning = "Lower end of the yeast's working band, in °C.",
        DefaultText = "none: no alert on temperature",
        Allowed = "a number from -5 to 45, in °C, below BandHighCelsius",
        Example = "16",
        Default = () => null,
        Read = SettingReaders.Optional(SettingReaders.Number(-5, 45)),
    };

    public static Setting<double?> BatchBandHigh { get; } = new()
    {
        Key = "Batches[]:BandHighCelsius",
        Meaning = "Upper end of the yeast's working band, in °C.",
        DefaultText = "none: no alert on temperature",
        Allowed = "a number from -5 to 45, in °C, above BandLowCelsius",
        Example = "24",
        Default = () => null,
        Read = SettingReaders.Optional(SettingReaders.Number(-5, 45)),
    };

    public static Setting<double?> BatchTolerance { get; } = new()
    {
        Key = "Batches[]:TolerancePercent",
        Meaning = "The yeast's alcohol tolerance as its packet states it, in % vol.",
        DefaultText = "none",
        Allowed = "a number from 3 to 25, in % vol",
        Example = "14",
        Default = () => null,
        Read = SettingReaders.Optional(SettingReaders.Number(3, 25)),
    };

    public static Setting<string> AttachedSensor { get; } = new()
    {
        Key = "Batches[]:Sensors[]:Sensor",
        Meaning = "Name of a sensor in this batch, as its topic entry gives it.",
        DefaultText = "required",
        Allowed = "1 to 80 characters",
        Example = "carboy oak",
        Read = SettingReaders.Text(1, 80),
    };

    public static Setting<EventTime?> AttachedFrom { get; } = new()
    {
        Key = "Batches[]:Sensors[]:From",
        Meaning = "From when its readings belong to the batch.",
        DefaultText = "the inoculation",
        Allowed = "a date and time from 2000 to 2099 with Z or an offset",
        Example = "2026-09-20T18:30:00+02:00",
        Default = () => null,
        Read = SettingReaders.Optional<EventTime>(SettingReaders.Moment),
    };

    public static Setting<EventTime?> AttachedUntil { get; } = new()
    {
        Key = "Batches[]:Sensors[]:Until",
        Meaning = "Until when (that moment excluded).",
        DefaultText = "none: it is still there",
        Allowed = "a date and time from 2000 to 2099 with Z or an offset, after From",
        Example = "2026-11-01T10:00:00Z",
        Default = () => null,
        Read = SettingReaders.Optional<EventTime>(SettingReaders.Moment),
    };

    public static Setting<Placement> AttachedPlacement { get; } = new()
    {
        Key = "Batches[]:Sensors[]:Placement",
        Meaning = "Where the sensor sits; it sets how long its temperature takes to follow the liquid.",
        DefaultText = "in-liquid",
        Allowed = "'in-liquid' (or in a thermowell), 'insulated-on-glass', 'bare-glass' or 'room'",
        Example = "bare-glass",
        Default = () => Placement.InLiquid,
        Read = SettingReaders.Word(SettingWords.Placements),
    };
}
