namespace FermentWatch.Monitoring.Telemetry;

/// <summary>Where readings in a unit usually lie, and how telling it is that a number lies there. Common practice, no source.</summary>
internal static class UsualRange
{
    /// <summary>How much a number alone speaks for a unit; 0 where it is possible but unusual.</summary>
    public static double Weigh(MeasurementUnit unit, double number) => unit switch
    {
        // Almost nothing else in a cellar lies so close to 1 with decimals behind it.
        MeasurementUnit.SpecificGravity => number is >= 0.97 and <= 1.2 ? number == Math.Round(number, 1) ? 3 : 6 : 0,
        MeasurementUnit.GravityPoints => number is > 36 and <= 170 ? 1.5 : number is >= -15 and <= 36 ? 0.8 : 0,
        // Wine and mead makers write Brix; Plato is the brewer's word for nearly the same number.
        MeasurementUnit.DegreesBrix => number is >= -3 and <= 36 ? 1.7 : 0,
        MeasurementUnit.DegreesPlato => number is >= -3 and <= 36 ? 1.4 : 0,
        MeasurementUnit.KilogramsPerCubicMeter => number is >= 970 and <= 1200 ? 4.5 : 0,
        MeasurementUnit.DegreesCelsius => number is >= 4 and <= 36 ? 2.5 : number is > -15 and < 4 ? 1.5 : 0,
        MeasurementUnit.DegreesFahrenheit => number is > 55 and <= 90 ? 4.2 : number is > 36 and <= 100 ? 2 : 0,
        MeasurementUnit.Kelvin => number is >= 272 and <= 312 ? 4.3 : 0,
        MeasurementUnit.PH => number is >= 2.6 and <= 4.6 ? 1.2 : 0,
        MeasurementUnit.Kilopascals => number is > 3 and <= 400 ? 0.6 : 0.1,
        MeasurementUnit.Bar => number is >= -0.2 and <= 3.5 ? 0.7 : 0,
        MeasurementUnit.Volts => number is >= 2.4 and <= 15 ? 1.6 : number is >= 0.8 and < 2.4 ? 0.9 : -3,
        MeasurementUnit.Percent => number > 15 ? 1.2 : 0.4,
        MeasurementUnit.DecibelMilliwatts => number is >= -110 and <= -25 ? 5 : 0,
        MeasurementUnit.PartsPerMillion => number is >= 380 and <= 6000 ? 2.2 : 0,
        MeasurementUnit.Degrees => number is >= 5 and <= 85 ? 0.6 : 0,
        MeasurementUnit.Kilograms => number is >= 2 and <= 150 ? 0.5 : 0,
        MeasurementUnit.Grams => number is >= 2000 and <= 150_000 ? 0.7 : 0,
        MeasurementUnit.Pounds => number is >= 4 and <= 330 ? 0.3 : 0,
        _ => 0,
    };
}
