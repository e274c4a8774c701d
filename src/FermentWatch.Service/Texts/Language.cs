using System.Globalization;

namespace FermentWatch.Service.Texts;

/// <summary>A language in which the program speaks: where its words come from and how it writes days and times.</summary>
/// <param name="Code">Its tag (BCP 47), such as <c>de</c>; also the ending of its resource files and what the store keeps.</param>
/// <param name="Culture">Whose resource files and names of days and months are used.</param>
public sealed record Language(string Code, CultureInfo Culture)
{
    private static readonly AsyncLocal<Language?> Spoken = new();

    /// <summary>'Thursday, October 22'.</summary>
    public required string LongDay { get; init; }

    /// <summary>'Thursday, October 22, 2026'.</summary>
    public required string LongDayOfYear { get; init; }

    /// <summary>'Sunday 18', where the month is known from what stands beside it.</summary>
    public required string DayOfMonth { get; init; }

    /// <summary>'October 22'.</summary>
    public required string MonthDay { get; init; }

    /// <summary>'Oct 22'.</summary>
    public required string ShortDay { get; init; }

    /// <summary>'Oct 22, 2026'.</summary>
    public required string ShortDayOfYear { get; init; }

    /// <summary>Whether the clock has twice twelve hours, with 'am' and 'pm'.</summary>
    public bool HasTwelveHours { get; init; }

    /// <summary>Changes a text of the neutral language where there are no files; null changes nothing.</summary>
    internal Func<string, string>? Change { get; init; }

    /// <summary>Whether everything below two is one, as in French, or one alone.</summary>
    internal bool CountsNoneAsOne { get; init; }

    /// <summary>Whether so many of a thing stand in the singular.</summary>
    internal bool CountsAsOne(decimal number) => CountsNoneAsOne ? Math.Abs(number) < 2 : number == 1;

    // The invariant culture has the English names of days and months and needs no language data on the machine.

    /// <summary>American English, in which every text exists.</summary>
    public static Language English { get; } = new("en", CultureInfo.InvariantCulture)
    {
        LongDay = "dddd, MMMM\u00a0d",
        LongDayOfYear = "dddd, MMMM\u00a0d, yyyy",
        DayOfMonth = "dddd\u00a0d",
        MonthDay = "MMMM\u00a0d",
        ShortDay = "MMM\u00a0d",
        ShortDayOfYear = "MMM\u00a0d,\u00a0yyyy",
        HasTwelveHours = true,
    };

    /// <summary>German.</summary>
    public static Language German { get; } = new("de", CultureInfo.GetCultureInfo("de-DE"))
    {
        LongDay = "dddd, d.\u00a0MMMM",
        LongDayOfYear = "dddd, d.\u00a0MMMM yyyy",
        DayOfMonth = "dddd, d.\u00a0MMMM",
        MonthDay = "d.\u00a0MMMM",
        ShortDay = "d.\u00a0MMM",
        ShortDayOfYear = "d.\u00a0MMM\u00a0yyyy",
    };

    /// <summary>French.</summary>
    public static Language French { get; } = new("fr", CultureInfo.GetCultureInfo("fr-FR"))
    {
        LongDay = "dddd d\u00a0MMMM",
        LongDayOfYear = "dddd d\u00a0MMMM yyyy",
        DayOfMonth = "dddd\u00a0d",
        MonthDay = "d\u00a0MMMM",
        ShortDay = "d\u00a0MMM",
        ShortDayOfYear = "d\u00a0MMM\u00a0yyyy",
        CountsNoneAsOne = true,
    };

    /// <summary>English in brackets, which nobody is offered: what stands outside them on a page was never given to the translators.</summary>
    internal static Language Bracketed { get; } = new("qps-ploc", CultureInfo.InvariantCulture)
    {
        LongDay = English.LongDay,
        LongDayOfYear = English.LongDayOfYear,
        DayOfMonth = English.DayOfMonth,
        MonthDay = English.MonthDay,
        ShortDay = English.ShortDay,
        ShortDayOfYear = English.ShortDayOfYear,
        Change = static text => "⟦" + text + "⟧",
    };

    /// <summary>The languages among which a reader chooses, in the order in which they are shown.</summary>
    public static IReadOnlyList<Language> All { get; } = [English, German, French];

    /// <summary>The language in which this request, notice or letter is being written.</summary>
    public static Language Present => Spoken.Value ?? English;

    /// <summary>The language of a tag, or null.</summary>
    public static Language? Find(string? code) => All.Append(Bracketed).FirstOrDefault(language => language.Code == code);

    /// <summary>Speaks this language until the result is disposed of, in this flow of work only.</summary>
    public IDisposable Speak()
    {
        var before = Spoken.Value;
        Spoken.Value = this;
        return new Silence(before);
    }

    /// <summary>A text after its values were put in: the point of an abbreviated month or an ordinal is the sentence's too.</summary>
    internal string Joined(string text) => this == English ? text : text.Replace("..", ".", StringComparison.Ordinal);

    /// <summary>'4:10 am', or '16:10' where the clock has 24 hours.</summary>
    /// <param name="local">The reader's clock.</param>
    /// <param name="space">What stands between the time and its half of the day.</param>
    public string Clock(DateTimeOffset local, string space) => HasTwelveHours
        ? local.ToString("h:mm", Culture) + space + (local.Hour < 12 ? "am" : "pm")
        : local.ToString("H:mm", CultureInfo.InvariantCulture);

    private sealed class Silence(Language? before) : IDisposable
    {
        public void Dispose() => Spoken.Value = before;
    }
}
