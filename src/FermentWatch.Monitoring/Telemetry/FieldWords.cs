using System.Collections.Frozen;

namespace FermentWatch.Monitoring.Telemetry;

/// <summary>What the words in a field's name say. Makers of home-made sensors write them joined, shortened and in any case.</summary>
internal sealed class FieldWords
{
    private static readonly FrozenDictionary<string, QuantityKind> QuantityWords = Table(
        (QuantityKind.Gravity, "gravity grav grv sg density dens og hydrometer hydro wort must sugar extract plato brix bx points pts oe specific"),
        (QuantityKind.Temperature, "temperature temp tmp therm thermo thermometer thermowell degrees degree deg t celsius centigrade fahrenheit kelvin degc degf tempc tempf warm heat tc tf well"),
        (QuantityKind.GasPulses, "bubbles bubble blips blip bpm pulses pulse airlock blub glugs burps plops clicks"),
        (QuantityKind.Acidity, "ph acid acidity acidness"),
        (QuantityKind.Pressure, "pressure press pres prs kpa bar barg psi hpa mbar headspace"),
        (QuantityKind.Battery, "battery batt bat vbat vbatt ubat cell volt volts voltage accu akku lipo soc charge juice vcc supply"),
        (QuantityKind.Signal, "rssi signal sig dbm wifi radio strength reception antenna"),
        (QuantityKind.RoomCarbonDioxide, "co2 carbon dioxide eco2 ppm"),
        (QuantityKind.Inclination, "tilt angle lean incline inclination pitch slant"),
        (QuantityKind.VesselMass, "weight mass scale load kg kilos kilogram kilograms grams gram lb lbs pounds"));

    private static readonly FrozenDictionary<string, MeasurementUnit> UnitWords = Table(
        (MeasurementUnit.SpecificGravity, "sg"),
        (MeasurementUnit.GravityPoints, "points point pts gu"),
        (MeasurementUnit.DegreesPlato, "plato degp degplato"),
        (MeasurementUnit.DegreesBrix, "brix bx degbrix degbx"),
        (MeasurementUnit.KilogramsPerCubicMeter, "kgm kgm3 kgpm3 gl gpl"),
        (MeasurementUnit.DegreesCelsius, "celsius centigrade c degc tempc tc"),
        (MeasurementUnit.DegreesFahrenheit, "fahrenheit f degf tempf tf"),
        (MeasurementUnit.Kelvin, "kelvin k degk tempk tk"),
        (MeasurementUnit.PulsesPerMinute, "bpm ppmin permin"),
        (MeasurementUnit.PH, "ph"),
        (MeasurementUnit.Kilopascals, "kpa kilopascal kilopascals"),
        (MeasurementUnit.Bar, "bar barg bars"),
        (MeasurementUnit.Volts, "v volt volts voltage vbat vbatt ubat vcc"),
        (MeasurementUnit.Percent, "percent pct perc percentage soc"),
        (MeasurementUnit.DecibelMilliwatts, "dbm rssi"),
        (MeasurementUnit.PartsPerMillion, "ppm co2 eco2"),
        (MeasurementUnit.Degrees, "tilt angle lean incline inclination pitch slant"),
        (MeasurementUnit.Kilograms, "kg kilos kilogram kilograms"),
        (MeasurementUnit.Grams, "grams gram"),
        (MeasurementUnit.Pounds, "lb lbs pounds"));

    private static readonly FrozenSet<string> NoQuantity = Words(
        "roll yaw accel acc x y z id uid seq sequence counter serial uptime heap interval humidity hum humid "
        + "rh lux light version ver fw firmware time ts timestamp epoch millis boot boots reset restarts err error errors code target setpoint "
        + "sleep awake channel port rpm snr free attempt retries number index total status state unixtime sent when clock lat lon");

    private static readonly FrozenSet<string> OtherUnits = Words("mv millivolt millivolts psi hpa mbar mmhg oechsle oe ma milliamps");

    public FieldWords(string name)
    {
        var words = Split(name).ToList();
        var quantities = words.Select(word => QuantityWords.TryGetValue(word, out var quantity) ? (QuantityKind?)quantity : null).OfType<QuantityKind>().ToHashSet();
        if (quantities.Contains(QuantityKind.Inclination))
        {
            // 'tilt_deg': the degrees are those of the angle.
            quantities.Remove(QuantityKind.Temperature);
        }

        Quantities = quantities;
        Units = words.Select(word => UnitWords.TryGetValue(word, out var unit) ? (MeasurementUnit?)unit : null).OfType<MeasurementUnit>().ToHashSet();
        SaysNoQuantity = words.Any(NoQuantity.Contains);
        SaysOtherUnit = words.Any(OtherUnits.Contains);
    }

    /// <summary>Quantities that a word names.</summary>
    public IReadOnlySet<QuantityKind> Quantities { get; }

    /// <summary>Units that a word names.</summary>
    public IReadOnlySet<MeasurementUnit> Units { get; }

    /// <summary>Whether a word names something that is not kept, such as a counter or a version.</summary>
    public bool SaysNoQuantity { get; }

    /// <summary>Whether a word names a unit that is not among ours.</summary>
    public bool SaysOtherUnit { get; }

    /// <summary>Words in lower case: parted where letters end and where a capital follows a small letter. A digit ends a word, but for 'co2' and 'kgm3'.</summary>
    private static IEnumerable<string> Split(string name)
    {
        var word = new List<char>();
        for (var at = 0; at <= name.Length; at++)
        {
            var letter = at < name.Length ? name[at] : ' ';
            var isBreak = !char.IsAsciiLetter(letter) || (char.IsAsciiLetterUpper(letter) && at > 0 && char.IsAsciiLetterLower(name[at - 1]));
            if (isBreak && word.Count > 0)
            {
                var text = new string([.. word]);
                word.Clear();
                if (char.IsAsciiDigit(letter) && (text + letter) is "co2" or "eco2" or "kgm3" or "kgpm3")
                {
                    text += letter;
                }

                yield return text;
            }

            if (char.IsAsciiLetter(letter))
            {
                word.Add(char.ToLowerInvariant(letter));
            }
        }
    }

    private static FrozenDictionary<string, T> Table<T>(params (T Meaning, string Words)[] rows) => rows
        .SelectMany(row => row.Words.Split(' ').Select(word => (word, row.Meaning)))
        .DistinctBy(pair => pair.word)
        .ToFrozenDictionary(pair => pair.word, pair => pair.Meaning);

    private static FrozenSet<string> Words(string words) => words.Split(' ').ToFrozenSet();
}
