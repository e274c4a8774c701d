using FermentWatch.Oenology.Worksheets;
using FermentWatch.Service.Dashboard.Bench;
using FermentWatch.Service.Dashboard.Words;
using FermentWatch.Service.Texts;
using Xunit;

namespace FermentWatch.System.Tests.Worksheets;

/// <summary>Phrases and fixed texts of the library as a reader sees them: language, units and decimal mark.</summary>
public sealed class PhraseWordsTests
{
    private static readonly Units Comma = Units.Usual with { Mark = DecimalMark.Comma };

    [Theory]
    [InlineData("0.25 g/L of yeast hulls", "0,25\u00a0g/L of yeast hulls")]
    [InlineData("Below 1.000 there is alcohol", "Below 1,000 there is alcohol")]
    [InlineData("extract without sugar of 6,497 wines", "extract without sugar of 6\u00a0497 wines")]
    [InlineData("/16.83, /16.5", "/16,83, /16,5")]
    [InlineData("it ends at 1.5.", "it ends at 1,5.")]
    [InlineData("27 CFR 24.246, 8 lb for 1000 gal", "27 CFR 24.246, 8\u00a0lb for 1000\u00a0gal")]
    [InlineData("27 CFR 4.22(b)(1)", "27 CFR 4.22(b)(1)")]
    [InlineData("21 CFR 101.30: 11.5 °Bx", "21 CFR 101.30: 11,5\u00a0°Bx")]
    [InlineData("OIV 3.1.6: dry to 8 g/L", "OIV 3.1.6: dry to 8\u00a0g/L")]
    [InlineData("OIV Code annex A.1 and II.3.4.5", "OIV Code annex A.1 and II.3.4.5")]
    [InlineData("Regulation (EU) 2019/934", "Regulation (EU) 2019/934")]
    [InlineData("2026-03-01, 127.0.0.1, MQTT 3.1.1", "2026-03-01, 127.0.0.1, MQTT 3.1.1")]
    [InlineData("20, 30 and 40", "20, 30 and 40")]
    public void FiguresOfAText_TakeTheMark_AndNamesDoNot(string text, string written) => Assert.Equal(written, FixedFigures.Written(text, DecimalMark.Comma));

    [Fact]
    public void FiguresOfAText_KeepThePoint_ForWhoReadsIt() => Assert.Equal("0.25\u00a0g/L, 6,497 wines", FixedFigures.Written("0.25 g/L, 6,497 wines", DecimalMark.Point));

    [Theory]
    [InlineData("en", false, "At 30\u00a0°C it would reach 5.2\u00a0bar; the bottle is rated for 3.5\u00a0bar. Aim lower or take other bottles.")]
    [InlineData("de", true, "Bei 30\u00a0°C würden 5,2\u00a0bar erreicht; die Flasche ist für 3,5\u00a0bar zugelassen. Plane weniger Druck oder nimm andere Flaschen.")]
    [InlineData("fr", true, "À 30\u00a0°C, 5,2\u00a0bar seraient atteints\u202f; la bouteille est admise pour 3,5\u00a0bar. Visez moins de pression ou prenez d’autres bouteilles.")]
    public void Refusal_IsSaidInEachLanguage(string code, bool hasComma, string sentence)
    {
        var answer = WorksheetCatalog.Find("priming-sugar")!.Run(new Dictionary<string, string>
        {
            ["volume"] = "20",
            ["alcohol"] = "12",
            ["temperature"] = "12",
            ["target-pressure"] = "5",
            ["bottle"] = "sparkling",
            ["rated-pressure"] = "6.5",
        }).Answer!;
        Assert.True(answer.IsRefusal);
        Phrase phrase = $"At 30 °C it would reach {5.21:F1} bar; the bottle is rated for {3.5:F1} bar. Aim lower or take other bottles.";
        Assert.Equal(Assert.Single(answer.Notices, notice => notice.Weight is NoticeWeight.Refusal).Words.Template, phrase.Template);
        Assert.Equal(sentence, Say(code, hasComma ? Comma : Units.Usual, phrase));
    }

    [Fact]
    public void Amounts_AreInTheReadersUnits()
    {
        var units = Units.Usual with { Temperature = TemperatureUnit.Fahrenheit, Volume = VolumeUnit.UsGallons, Mass = MassUnit.Ounces, Mark = DecimalMark.Comma };
        Assert.Equal("68,0\u00a0°F, 5,28\u00a0gal, 3,527\u00a0oz, 0,25\u00a0g/L", Say("en", units, $"{new Amount(20, "°C"):0.0}, {new Amount(20, "L"):0.0}, {new Amount(100, "g"):0.0}, {new Amount(0.25, "g/L"):0.00}"));
        Assert.Equal("16,1\u00a0°P", Say("en", Comma with { Gravity = GravityUnit.Plato }, $"{Amount.Of(1.066, QuantityKind.Gravity):0.000}"));
        Assert.Equal("1.066", Say("en", Units.Usual, $"{Amount.Of(1.066, QuantityKind.Gravity):0.000}"));
    }

    [Fact]
    public void Fault_NamesTheFieldByItsLabel_AndNeverByItsKey()
    {
        var sheet = WorksheetCatalog.Find("alcohol-from-gravity")!;
        var fault = Assert.Single(sheet.Run(new Dictionary<string, string> { ["original-gravity"] = "1.05", ["present-gravity"] = "1.06" }).Faults);
        Assert.Equal("present-gravity is 1.06; it must be at most the original gravity; if sugar was added, count it into the original gravity (step feeding).", fault.Sentence);
        using var spoken = Language.German.Speak();
        var reader = new Reader(TimeZoneInfo.Utc, Comma, Language.German);
        Assert.StartsWith(
            "Dichte jetzt ist 1,06; richtig wäre: höchstens die Anfangsdichte",
            PhraseWords.Of(fault.Words, reader, key => PhraseWords.Of(sheet.Inputs.First(input => input.Key == key).Label, reader)),
            StringComparison.Ordinal);
    }

    private static string Say(string code, Units units, Phrase phrase)
    {
        var language = Language.Find(code)!;
        using var spoken = language.Speak();
        return PhraseWords.Of(phrase, new Reader(TimeZoneInfo.Utc, units, language));
    }
}
