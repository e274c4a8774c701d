using System.Globalization;
using FermentWatch.Oenology.Limits;
using FermentWatch.Service.Configuration;
using FermentWatch.Service.Dashboard.Words;
using FermentWatch.Service.Texts;

namespace FermentWatch.Service.Dashboard.Preferences;

/// <summary>Everything that a reader may choose, in the order in which it is shown.</summary>
internal static class PreferenceCatalog
{
    /// <summary>Begin of the names under which the store keeps preferences.</summary>
    public const string Prefix = "preference-";

    /// <summary>What is typed for no address at all.</summary>
    public const string NoAddress = "none";

    // Before the forms, which read them.
    private static readonly (string Name, ScaleStep Step)[] ScaleSteps =
    [
        ("thousandth", ScaleStep.Thousandth), ("hundredth", ScaleStep.Hundredth), ("tenth", ScaleStep.Tenth),
        ("gram", ScaleStep.Gram), ("five-grams", ScaleStep.FiveGrams), ("fifty-grams", ScaleStep.FiftyGrams),
    ];

    public static IReadOnlyList<PreferenceForm> Forms { get; } =
    [
        new("language",
        [
            Preference.Word(
                "language", set => set.Language.Code, (set, language) => set with { Language = language }, Language.Find, Language.All.Select(language => language.Code)),
        ]),
        new("units",
        [
            Preference.Choice(
                "gravity",
                set => set.Units.Gravity,
                (set, unit) => set with { Units = set.Units with { Gravity = unit } },
                ("sg", GravityUnit.SpecificGravity), ("plato", GravityUnit.Plato), ("brix", GravityUnit.Brix)),
            Preference.Choice(
                "temperature",
                set => set.Units.Temperature,
                (set, unit) => set with { Units = set.Units with { Temperature = unit } },
                ("celsius", TemperatureUnit.Celsius), ("fahrenheit", TemperatureUnit.Fahrenheit)),
            Preference.Choice(
                "volume",
                set => set.Units.Volume,
                (set, unit) => set with { Units = set.Units with { Volume = unit } },
                ("liters", VolumeUnit.Liters), ("gallons", VolumeUnit.UsGallons)),
            Preference.Choice(
                "mass",
                set => set.Units.Mass,
                (set, unit) => set with { Units = set.Units with { Mass = unit } },
                ("grams", MassUnit.Grams), ("ounces", MassUnit.Ounces)),
        ]),
        new("numbers",
        [
            Preference.Choice(
                "mark",
                set => set.Units.Mark,
                (set, mark) => set with { Units = set.Units with { Mark = mark } },
                ("point", DecimalMark.Point), ("comma", DecimalMark.Comma)),
        ]),
        new("zone", [Preference.Typed("zone", "text", set => set.Zone.Id, (set, zone) => set with { Zone = zone }, SettingReaders.Zone)]),
        new("quiet",
        [
            Preference.Typed("quiet-from", "time", set => Time(set.QuietFrom), (set, time) => set with { QuietFrom = time }, SettingReaders.TimeOfDay),
            Preference.Typed("quiet-until", "time", set => Time(set.QuietUntil), (set, time) => set with { QuietUntil = time }, SettingReaders.TimeOfDay),
        ]),
        new("address", [Preference.Typed("address", "text", set => set.BaseUrl?.AbsoluteUri ?? NoAddress, (set, address) => set with { BaseUrl = address }, Address)]),
        new("messages",
        [
            Preference.Typed("inbox-days", "text", set => Whole(set.InboxDays), (set, days) => set with { InboxDays = days }, NoticeCatalog.InboxDays.Read),
            Preference.Typed("inbox-megabytes", "text", set => Whole(set.InboxMegabytes), (set, size) => set with { InboxMegabytes = size }, NoticeCatalog.InboxMegabytes.Read),
        ]),
        new("limits",
        [
            Preference.Choice(
                "law",
                set => set.Law,
                (set, law) => set with { Law = law },
                ("eu", Law.Eu), ("us", Law.Us), ("oiv", Law.Oiv), ("strictest", Law.Strictest)),
        ]),
        new("scales",
        [
            Scale("bench-scale", set => set.BenchScale, (set, step) => set with { BenchScale = step }),
            Scale("kitchen-scale", set => set.KitchenScale, (set, step) => set with { KitchenScale = step }),
        ]),
    ];

    /// <summary>What a person may choose for their own notices, other than the house.</summary>
    public static IReadOnlyList<Preference> Personal { get; } = [.. Forms.Where(form => form.Id is "language" or "units" or "numbers" or "zone").SelectMany(form => form.Fields)];

    /// <summary>The word under which a step of a scale is kept.</summary>
    public static string NameOf(ScaleStep step) => ScaleSteps.First(one => one.Step == step).Name;

    /// <summary>The form of an address, or null.</summary>
    public static PreferenceForm? Find(string? id) => Forms.FirstOrDefault(form => form.Id == id);

    private static Preference Scale(string name, Func<PreferenceSet, ScaleStep> get, Func<PreferenceSet, ScaleStep, PreferenceSet> with) => Preference.Choice(
        name, get, with, ScaleSteps);

    private static Parsed<Uri?> Address(string text) =>
        text == NoAddress ? new(true, null) : SettingReaders.WebAddress(text).Then<Uri?>(address => address);

    private static string Time(TimeOnly time) => time.ToString("HH:mm", CultureInfo.InvariantCulture);

    private static string Whole(int number) => number.ToString(CultureInfo.InvariantCulture);
}
