using FermentWatch.Oenology.Density;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Service.Dashboard.Preferences;

namespace FermentWatch.Service.Dashboard.Words;

/// <summary>What the reader typed in the reader's units, as quantities.</summary>
public sealed partial class Reader
{
    /// <summary>A gravity of <see cref="SpecificGravity.Lowest"/> to <see cref="SpecificGravity.Highest"/>.</summary>
    public Typed<SpecificGravity> ReadGravity(string? text)
    {
        var lowest = Math.Ceiling(GravityValue(SpecificGravity.Lowest) / GravityDigit) * GravityDigit;
        var highest = Math.Floor(GravityValue(SpecificGravity.Highest) / GravityDigit) * GravityDigit;
        return Read(
            text,
            lowest,
            highest,
            value => Units.Gravity == GravityUnit.SpecificGravity ? SpecificGravity.FromRatio(value) : GravityUnits.GravityOf(Plato.FromDegrees(value)),
            GravityFormat,
            GravitySign.Length == 0 ? "SG" : GravitySign,
            GravityValue(1.012));
    }

    /// <summary>A temperature of <see cref="Temperature.LowestCelsius"/> to <see cref="Temperature.HighestCelsius"/>.</summary>
    public Typed<Temperature> ReadTemperature(string? text) => Read(
        text,
        DegreesValue(Temperature.LowestCelsius),
        DegreesValue(Temperature.HighestCelsius),
        value => Units.Temperature == TemperatureUnit.Celsius ? Temperature.FromCelsius(value) : Temperature.FromFahrenheit(value),
        "0.#",
        DegreeSign,
        DegreesValue(20));

    /// <summary>A volume of 0 to 100000 L.</summary>
    public Typed<Volume> ReadVolume(string? text)
    {
        var liters = Units.Volume == VolumeUnit.Liters ? 1 : Units.LitersPerGallon;
        return Read(text, 0, Math.Floor(100000 / liters), value => Oenology.Quantities.Volume.FromLiters(value * liters), "0.##", liters == 1 ? "L" : "gal", liters == 1 ? 19.5 : 5.25);
    }

    /// <summary>A mass in grams, of 0 to 1000000 g.</summary>
    public Typed<double> ReadMass(string? text)
    {
        var grams = Units.Mass == MassUnit.Grams ? 1 : Units.GramsPerOunce;
        return Read(text, 0, Math.Floor(1000000 / grams), value => value * grams, "0.##", grams == 1 ? "g" : "oz", 12.5);
    }

    private Typed<T> Read<T>(string? text, double lowest, double highest, Func<double, T> quantity, string format, string sign, double example)
        where T : struct
    {
        if (!TypedNumber.TryRead(text, Units.Mark, out var number, out var fault))
        {
            var key = fault switch
            {
                TypedFault.Empty => "typed-empty",
                TypedFault.TwoMarks => "typed-two-marks",
                TypedFault.MaybeThousands => "typed-maybe-thousands",
                TypedFault.TooLong => "typed-too-long",
                _ => "typed-not-plain",
            };
            return new(null, PreferenceText.Of(key, text?.Trim() ?? "", sign, Number(example, format)));
        }

        return number >= lowest && number <= highest
            ? new(quantity(number), null)
            : new(null, PreferenceText.Of("typed-range", text!.Trim(), sign, Number(lowest, format), Number(highest, format), Number(example, format)));
    }
}
