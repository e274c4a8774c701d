using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Batches.Journaling;

/// <summary>The fields from which the kinds of entries are made.</summary>
internal static class JournalFields
{
    public static JournalField SampleTemperature { get; } = Number("sample-temperature", "°C", 0, 45, 1);

    public static JournalField Instrument { get; } = Choice("instrument", false, InstrumentNames.All);

    /// <summary>Whether gas was driven out of the sample before it was read: bubbles lift a hydrometer. Entries without it do not tell.</summary>
    public static JournalField Degassed { get; } = Choice("degassed", false, ["yes", "no"]) with { IsOpen = true };

    public static JournalField PH { get; } = Number("ph", "", 2, 6, 2) with { IsSeldom = true };

    public static JournalField TotalAcid { get; } = Number("total-acid", "g/L", 0.5, 30, 1) with { IsSeldom = true };

    public static JournalField FreeSulfite { get; } = Number("free-sulfite", "mg/L", 0, 200, 0) with { IsSeldom = true };

    public static JournalField TotalSulfite { get; } = Number("total-sulfite", "mg/L", 0, 500, 0) with { IsSeldom = true };

    public static JournalField Nitrogen { get; } = Number("nitrogen", "mg/L", 0, 1000, 0) with { IsSeldom = true };

    public static JournalField SugarTest { get; } = Number("sugar-test", "g/L", 0, 500, 1) with { IsSeldom = true };

    public static JournalField Sample { get; } = Number("sample", "mL", 1, 5000, 0);

    public static JournalField Product { get; } = Words("product", false);

    public static JournalField Parts { get; } = Number("parts", "", 1, 4, 0) with { IsRequired = true };

    public static JournalField HoursBetween { get; } = Number("hours-between", "h", 6, 96, 0);

    public static JournalField Nutrient { get; } = Choice("nutrient", false, ["salts", "organic"]);

    public static JournalField Place { get; } = Words("place", false);

    public static JournalField Yeast { get; } = Words("yeast", false);

    public static JournalField Culture { get; } = Words("culture", false);

    public static JournalField Agent { get; } = Words("agent", true);

    public static JournalField With { get; } = Words("with", false);

    public static JournalField Sweetener { get; } = Choice("sweetener", true, ["sugar", "honey"]);

    public static JournalField Next { get; } = Choice("next", false, ["goes-on", "ages"]);

    public static JournalField Smell { get; } = Choice("smell", true, ["clean", "egg", "vinegar", "solvent"]);

    public static JournalField Clarity { get; } = Choice("clarity", true, ["clear", "hazy", "cloudy"]);

    public static JournalField Acid { get; } = Choice("acid", true, ["tartaric", "malic", "citric", "lactic", "blend"]);

    public static JournalField BottlePath { get; } = Choice("path", true, ["dry-and-flat", "sulfite-and-sorbate", "pasteurized-or-filtered", "kept-cold", "bottle-conditioned"]);

    public static JournalField PlannedIn { get; } = Number("planned-in", "d", 0, 365, 0);

    public static JournalField ReceivingVessel { get; } = Number("receiving-vessel", "L", 0.5, 100000, 2);

    public static JournalField ReceivingHeadspace { get; } = Number("receiving-headspace", "mL", 0, 50000, 0);

    public static JournalField HeatedTo { get; } = Number("heated-to", "°C", 40, 100, 1) with { IsRequired = true };

    public static JournalField HeldMinutes { get; } = Number("held-minutes", "min", 0.1, 600, 1) with { IsRequired = true };

    public static JournalField Pore { get; } = Number("pore", "µm", 0.05, 20, 2) with { IsRequired = true };

    public static JournalField RatedPressure { get; } = Number("rated-pressure", "bar", 0.1, 100, 1);

    public static JournalField Closure { get; } = Choice("closure", true, ["bung", "keg", "lid"]);

    public static JournalField Sentinel { get; } = Choice("sentinel", false, ["plastic", "gauge", "none"]);

    public static JournalField Feel { get; } = Choice("feel", false, ["soft", "firm", "hard"]);

    public static JournalField Gauge { get; } = Number("gauge", "bar", 0, 20, 1);

    public static JournalField Added { get; } = Number("added", "L", 0.01, 10000, 2) with { IsRequired = true };

    public static JournalField Sulfite { get; } = Number("sulfite", "g", 0.01, 5000, 2);

    public static JournalField Sorbate { get; } = Number("sorbate", "g", 0.01, 5000, 2);

    public static JournalField Bottles { get; } = Number("bottles", "", 1, 100000, 0) with { IsRequired = true };

    public static JournalField Fill { get; } = Number("fill", "mL", 30, 20000, 0) with { IsRequired = true };

    public static JournalField Gravity(bool isRequired) => Number("gravity", "SG", 0.97, 1.2, 3) with { IsRequired = isRequired };

    public static JournalField Grams(bool isRequired) => Number("grams", "g", 0.01, 100000, 2) with { IsRequired = isRequired };

    public static JournalField Kilograms(bool isRequired) => Number("kilograms", "kg", 0.001, 10000, 3) with { IsRequired = isRequired };

    public static JournalField Volume(bool isRequired) => Number("volume", "L", 0.1, 100000, 1) with { IsRequired = isRequired };

    private static JournalField Number(string name, string unit, double low, double high, int digits) =>
        new(name, FieldShape.Number, false) { Unit = unit, Low = low, High = high, Digits = digits };

    private static JournalField Words(string name, bool isRequired) => new(name, FieldShape.Words, isRequired);

    private static JournalField Choice(string name, bool isRequired, IEnumerable<string> choices) =>
        new(name, FieldShape.Choice, isRequired) { Choices = ValueList.Of(choices) };
}
