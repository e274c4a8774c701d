using System.Text.Json.Nodes;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Monitoring.Telemetry.Calibration;
using FermentWatch.Service.Configuration;

namespace FermentWatch.Service.InOut;

/// <summary>How messages become readings, for the full export: mappings of the configuration and of the page, and calibrations.</summary>
internal static class SensorExport
{
    /// <summary>Every mapping that reads, with where it was made.</summary>
    public static JsonArray Mappings(ValueList<TopicMapping> configured, Store store) => new(
    [
        .. configured.Select(mapping => Mapping(mapping, "configuration")),
        .. store.ReadMappings().Where(made => made.RetiredAt is null).Select(made => Mapping(made.Mapping, "page")),
    ]);

    /// <summary>Every calibration, those that were taken back included, with the points or pairs that it stands on.</summary>
    public static JsonArray Calibrations(IEnumerable<SensorId> sensors, Store store) => new([.. sensors.SelectMany(store.ReadCalibrations).OrderBy(one => one.Id).Select(Calibration)]);

    private static JsonObject Mapping(TopicMapping mapping, string origin) => new JsonObject
    {
        ["origin"] = origin,
        ["filter"] = mapping.Filter.ToString(),
        ["sensor"] = mapping.Sensor,
        ["fields"] = new JsonArray([.. mapping.Fields.Select(field => new JsonObject
        {
            ["pointer"] = field.Source?.ToString(),
            ["quantity"] = SettingWords.Of(field.Quantity),
            ["unit"] = SettingWords.Of(field.Unit),
        })]),
        ["time"] = mapping.Time is { } time
            ? new JsonObject { ["pointer"] = time.Source.ToString(), ["format"] = SettingWords.TimeFormats.First(word => word.Value == time.Format).Key }
            : null,
    };

    private static JsonObject Calibration(SensorCalibration calibration) => new JsonObject
    {
        ["sensor"] = calibration.Sensor.Value,
        ["from"] = calibration.From == SensorCalibration.Always ? null : calibration.From.ToString(),
        ["created_at"] = calibration.CreatedAt.ToString(),
        ["retired_at"] = calibration.RetiredAt?.ToString(),
        ["inclination"] = calibration.Curve is { } curve
            ? new JsonObject
            {
                ["order"] = curve.Order,
                ["points"] = new JsonArray([.. curve.Points.Select(point => new JsonObject { ["degrees"] = point.Degrees, ["gravity"] = point.Gravity })]),
            }
            : null,
        ["adjustment"] = calibration.Adjustment is { } adjustment
            ? new JsonObject
            {
                ["offset_points"] = adjustment.OffsetPoints,
                ["scale"] = adjustment.Scale,
                ["around_points"] = adjustment.AroundPoints,
                ["error_points"] = adjustment.ErrorPoints,
                ["pairs"] = new JsonArray([.. adjustment.Pairs.Select(pair => new JsonObject
                {
                    ["at"] = pair.At.ToString(), ["hand_points"] = pair.HandPoints, ["sensor_points"] = pair.SensorPoints,
                })]),
            }
            : null,
    };
}
