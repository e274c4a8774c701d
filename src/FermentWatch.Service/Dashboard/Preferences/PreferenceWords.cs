using System.Globalization;
using FermentWatch.Service.Dashboard.Words;
using FermentWatch.Service.Texts;

namespace FermentWatch.Service.Dashboard.Preferences;

/// <summary>The sentences of the preferences.</summary>
internal static class PreferenceWords
{
    /// <summary>What a form's values are now: 'Gravity in SG, temperature in °C, volume in liters, mass in grams'.</summary>
    public static string Sentence(PreferenceForm form, PreferenceBook book, DateTimeOffset now)
    {
        var set = book.Present;
        var values = form.Id switch
        {
            "zone" => [set.Zone.Id, book.Reader.Clock(now)],
            "numbers" => [Choice(form.Fields[0], form.Fields[0].Text(set), book.Reader), book.Reader.Number(19.4, "0.0")],
            "quiet" => [Clock(set.QuietFrom), Clock(set.QuietUntil)],
            "messages" => [Figures.Count(set.InboxDays), Figures.Count(set.InboxMegabytes)],
            _ => form.Fields.Select(field => field.Choices.Count > 0 ? Choice(field, field.Text(set), book.Reader) : field.Text(set)).ToArray<object>(),
        };
        var isNone = (form.Id == "quiet" && set.QuietHours is null) || (form.Id == "address" && set.BaseUrl is null);
        return PreferenceText.Of("say-" + form.Id + (isNone ? "-none" : ""), values);
    }

    /// <summary>Whether the values come from the configuration; empty for what it does not know.</summary>
    public static string Origin(PreferenceForm form, PreferenceBook book)
    {
        if (!form.Fields.Any(field => field.IsConfigured))
        {
            return "";
        }

        var chosen = form.Fields.Count(book.IsChosen);
        return PreferenceText.Of(chosen == 0 ? "from-configuration" : chosen == form.Fields.Count ? "chosen-here" : "chosen-in-part");
    }

    /// <summary>Name of a field.</summary>
    public static string Label(Preference field) => PreferenceText.Of("label-" + field.Name);

    /// <summary>A choice as a word.</summary>
    public static string Choice(Preference field, string choice, Reader reader) => PreferenceText.Of("choice-" + field.Name + "-" + choice) is var words && field.Name.EndsWith("-scale", StringComparison.Ordinal)
        ? FixedFigures.Written(words, reader.Units.Mark)
        : words;

    /// <summary>What was given and what would be right.</summary>
    public static string Fault(Preference field, string given, string? because, Reader reader)
    {
        var right = field.Choices.Count > 0
            ? string.Join(", ", field.Choices.Select(choice => Choice(field, choice, reader)))
            : PreferenceText.Of("right-" + field.Name);
        var shown = given.Length > 80 ? given[..80] + "…" : given;
        return PreferenceText.Of("fault", Label(field), shown, right) + (string.IsNullOrEmpty(because) ? "" : " " + because);
    }

    private static string Clock(TimeOnly time) =>
        Language.Present.HasTwelveHours
            ? time.ToString(time.Minute == 0 ? "%h" : "h:mm", CultureInfo.InvariantCulture) + Figures.NoBreak + (time.Hour < 12 ? "am" : "pm")
            : time.ToString("H:mm", CultureInfo.InvariantCulture);
}
