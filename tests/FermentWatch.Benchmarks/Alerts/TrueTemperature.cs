using System.Text.Json;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Backtest;

namespace FermentWatch.Benchmarks.Alerts;

/// <summary>True temperature of the liquid of a recorded ferment: a track where the recording has one, else the spells outside the band that its truth lists.</summary>
internal sealed class TrueTemperature
{
    private readonly FermentTruth _truth;
    private readonly double[] _celsius = [];
    private readonly double _stepHours;

    public TrueTemperature(string folder, FermentTruth truth)
    {
        _truth = truth;
        using var document = JsonDocument.Parse(File.ReadAllText(Path.Combine(folder, "truth.json")));
        if (document.RootElement.TryGetProperty("celsius", out var track))
        {
            _celsius = [.. track.EnumerateArray().Select(value => value.GetDouble())];
            _stepHours = document.RootElement.GetProperty("celsius_every_h").GetDouble();
        }
    }

    /// <summary>Whether the temperature itself is known, not only the spells of four hours and more.</summary>
    public bool HasTrack => _celsius.Length > 0;

    /// <summary>Hours since inoculation.</summary>
    public double Hours(EventTime at) => (at - _truth.InoculatedAt).TotalHours;

    /// <summary>The temperature at an hour; only with a track. [°C]</summary>
    public double At(double hours) => _celsius[Math.Clamp((int)Math.Round(hours / _stepHours), 0, _celsius.Length - 1)];

    /// <summary>The spells for which something holds; only with a track.</summary>
    public List<(double From, double To)> Spells(Func<double, bool> holds)
    {
        var (found, from) = (new List<(double From, double To)>(), (double?)null);
        for (var i = 0; i <= _celsius.Length; i++)
        {
            var isIn = i < _celsius.Length && holds(i * _stepHours);
            if (isIn)
            {
                from ??= i * _stepHours;
            }
            else if (from is { } begin)
            {
                found.Add((begin, i * _stepHours));
                from = null;
            }
        }

        return found;
    }

    /// <summary>The spells outside the band.</summary>
    public List<(double From, double To)> Outside(double low, double high) => HasTrack
        ? Spells(hours => At(hours) > high || At(hours) < low)
        : [.. _truth.Excursions];
}
