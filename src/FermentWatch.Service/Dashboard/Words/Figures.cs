using System.Globalization;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Service.Configuration;

namespace FermentWatch.Service.Dashboard.Words;

/// <summary>Numbers that are the same for every reader; number and unit never part at a line end. What depends on the reader's units is in <see cref="Reader"/>.</summary>
public static class Figures
{
    /// <summary>The space that never breaks.</summary>
    public const char NoBreak = '\u00a0';

    private static readonly CultureInfo English = CultureInfo.InvariantCulture;

    private static readonly NumberFormatInfo Grouped = new() { NumberGroupSeparator = "\u202f" };

    /// <summary>Specific gravity whatever the reader's unit: '1.066'. Pages show gravity by <see cref="Reader.Gravity(double)"/>.</summary>
    public static string Gravity(double ratio) => ratio.ToString("F3", English);

    /// <summary>Specific gravity whatever the reader's unit: '1.066'. Pages show gravity by <see cref="Reader.Gravity(SpecificGravity)"/>.</summary>
    public static string Gravity(SpecificGravity gravity) => Gravity(gravity.Value);

    /// <summary>'166 g/L'.</summary>
    public static string GramsPerLiter(double value) => Joined(Whole(value), "g/L");

    /// <summary>A whole number.</summary>
    public static string Whole(double value) => (Math.Round(value) + 0d).ToString("N0", Grouped);

    /// <summary>'± 4', at least 1.</summary>
    public static string WholeTolerance(double value) => Joined("±", Math.Max(1, Math.Ceiling(value)).ToString("N0", Grouped));

    /// <summary>A number as a device sent it, with the unit that it was taken for: '1042 SG'.</summary>
    public static string Measured(double number, MeasurementUnit unit) => Joined(
        number.ToString("G6", English),
        SettingWords.Units.First(word => word.Value == unit).Key);

    /// <summary>'1 234': groups are parted by a narrow space, since point and comma are decimal marks. BIPM SI Brochure (2019), section 5.4.4.</summary>
    public static string Count(long number) => number.ToString("N0", Grouped);

    /// <summary>'40 s', '12 min', '14 h', '3 days'.</summary>
    public static string Length(TimeSpan span)
    {
        var length = span.Duration();
        return length switch
        {
            { TotalSeconds: < 90 } => Joined(Whole(length.TotalSeconds), "s"),
            { TotalMinutes: < 90 } => Joined(Whole(length.TotalMinutes), "min"),
            { TotalHours: < 48 } => Joined(Whole(length.TotalHours), "h"),
            _ => Joined(Whole(length.TotalDays), PageText.Of("unit-days")),
        };
    }

    /// <summary>'9 in 10', '19 in 20', 'more than 39 in 40'.</summary>
    public static string Odds(double probability)
    {
        if (probability is > 0.975 or < 0.025)
        {
            return PageText.Of(probability > 0.5 ? "odds-nearly-always" : "odds-hardly-ever");
        }

        var (part, whole) = ((int)Math.Round(probability * 20), 20);
        foreach (var divisor in (int[])[2, 5])
        {
            while (part % divisor == 0 && whole % divisor == 0)
            {
                (part, whole) = (part / divisor, whole / divisor);
            }
        }

        return PageText.Of("odds", part, whole);
    }

    private static string Joined(string first, string second) => first + NoBreak + second;
}
