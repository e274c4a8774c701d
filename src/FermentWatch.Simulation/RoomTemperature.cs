namespace FermentWatch.Simulation;

/// <summary>A spell in which the room is colder or warmer than it was.</summary>
/// <param name="FromHours">Start, in hours since inoculation.</param>
/// <param name="ToHours">End, in hours since inoculation.</param>
/// <param name="CelsiusChange">Change while it lasts, reached within 4 hours. [°C]</param>
public sealed record RoomSpell(double FromHours, double ToHours, double CelsiusChange);

/// <summary>The room around a simulated vessel, and how fast the vessel follows it.</summary>
public sealed record RoomTemperature
{
    private const double RampHours = 4;

    /// <summary>Mean of the room. [°C] Drawn from 13 to 26.</summary>
    public required double MeanCelsius { get; init; }

    /// <summary>Half of the swing between day and night. [°C] Drawn from 0 to 2.5.</summary>
    public double DailySwingCelsius { get; init; }

    /// <summary>Half of the slow swing of the weather. [°C] Drawn from 0 to 1.5.</summary>
    public double WeatherSwingCelsius { get; init; }

    /// <summary>Hour after inoculation at which the day is warmest for the first time. [h]</summary>
    public double WarmestHour { get; init; }

    /// <summary>Temperature of the must above the room at inoculation. [°C]</summary>
    public double StartAboveRoomCelsius { get; init; }

    /// <summary>Volume of the vessel. [L] Drawn from 4 to 30.</summary>
    public double VesselLiters { get; init; } = 20;

    /// <summary>Insulation: 1 is bare glass, higher is slower. Drawn from 0.7 to 1.6.</summary>
    public double Insulation { get; init; } = 1;

    /// <summary>Cold snaps and warm spells.</summary>
    public IReadOnlyList<RoomSpell> Spells { get; init; } = [];

    /// <summary>Hours in which a difference between vessel and room falls to 37 %. Grows with the vessel: about 10 h at 23 L.</summary>
    public double FollowingHours => 3.5 * Math.Cbrt(VesselLiters) * Insulation;

    /// <summary>Temperature of the room. [°C]</summary>
    /// <param name="hours">Hours since inoculation.</param>
    public double CelsiusAt(double hours)
    {
        var celsius = MeanCelsius
            + (DailySwingCelsius * Math.Cos(2 * Math.PI * (hours - WarmestHour) / 24))
            + (WeatherSwingCelsius * Math.Sin(2 * Math.PI * hours / 151) * Math.Cos(2 * Math.PI * (hours - WarmestHour) / 397));
        for (var i = 0; i < Spells.Count; i++)
        {
            var spell = Spells[i];
            var entered = Math.Clamp((hours - spell.FromHours) / RampHours, 0, 1);
            var left = Math.Clamp((hours - spell.ToHours) / RampHours, 0, 1);
            celsius += spell.CelsiusChange * (entered - left);
        }

        return celsius;
    }
}
