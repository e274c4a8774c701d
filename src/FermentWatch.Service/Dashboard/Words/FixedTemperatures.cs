using System.Globalization;
using System.Text.RegularExpressions;

namespace FermentWatch.Service.Dashboard.Words;

/// <summary>Temperatures that are written out in a text, such as 'at 20 to 22 °C', in the reader's unit.</summary>
/// <remarks>The texts hold °C in every language. A difference of temperatures would become wrong here: it stands in a text as a value of its own.</remarks>
internal static partial class FixedTemperatures
{
    /// <summary>The text as the reader reads its temperatures, in whole degrees.</summary>
    /// <param name="text">With figures in °C; values that are not put in yet stay.</param>
    /// <param name="unit">What the reader chose.</param>
    /// <param name="keepsCelsius">Whether the figure in °C stays beside it in parentheses, as where a source or a glass scale has it so.</param>
    public static string Written(string text, TemperatureUnit unit, bool keepsCelsius = false) => unit is TemperatureUnit.Celsius
        ? text
        : Written(text, keepsCelsius || text.Contains("°F", StringComparison.Ordinal));

    private static string Written(string text, bool keepsCelsius) => InCelsius().Replace(text, found =>
    {
        var (between, space) = (found.Groups["between"].Value, found.Groups["space"].Value);
        var figures = Fahrenheit(found.Groups["low"].Value) + between + (between.Length == 0 ? "" : Fahrenheit(found.Groups["high"].Value)) + space + "°F";
        return keepsCelsius ? $"{figures} ({found.Value})" : figures;
    });

    private static string Fahrenheit(string celsius) =>
        Math.Round(32 + (1.8 * double.Parse(celsius, CultureInfo.InvariantCulture)), MidpointRounding.AwayFromZero).ToString("0", CultureInfo.InvariantCulture);

    // '20 °C', '20 to 22 °C' in each language, '20/20 °C' of a gravity.
    [GeneratedRegex(@"(?<![\p{L}\d.,/–-])(?<low>\d+(?:\.\d+)?)(?:(?<between>[/–-]| (?:to|bis) )(?<high>\d+(?:\.\d+)?))?(?<space>[ \u00a0])°C(?!\p{L})")]
    private static partial Regex InCelsius();
}
