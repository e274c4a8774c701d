using System.Net;
using System.Text.RegularExpressions;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Worksheets;
using FermentWatch.Service.Dashboard.Bench;
using FermentWatch.Service.Dashboard.Words;
using FermentWatch.Service.Texts;
using FermentWatch.System.Tests.Dashboard;
using FermentWatch.System.Tests.Preferences;
using Xunit;

namespace FermentWatch.System.Tests.Worksheets;

/// <summary>Temperatures within sentences: who chose °F reads °F, in every language the same figures.</summary>
public sealed partial class FixedTemperaturesTests
{
    private static readonly Units American = Units.Usual with { Temperature = TemperatureUnit.Fahrenheit };

    /// <summary>Sources: °F = 1.8 °C + 32 exactly, NIST SP 811 (2008), appendix B.8; the figures are its whole degrees.</summary>
    [Theory]
    [InlineData("Keep it at 20 to 22 °C; it has {0}", "Keep it at 68 to 72 °F; it has {0}")]
    [InlineData("Halte ihn bei 20 bis 22\u00a0°C; er hat {0}", "Halte ihn bei 68 bis 72\u00a0°F; er hat {0}")]
    [InlineData("Gardez-le à 20–22\u00a0°C", "Gardez-le à 68–72\u00a0°F")]
    [InlineData("1.4 g/L, 1.9 à 12 °C", "1.4 g/L, 1.9 à 54 °F")]
    [InlineData("yeast dies within hours above about 34 °C.", "yeast dies within hours above about 93 °F.")]
    [InlineData("Liters of gas at 0 °C in a liter.", "Liters of gas at 32 °F in a liter.")]
    [InlineData("Specific gravity 20/20 °C", "Specific gravity 68/68 °F")]
    [InlineData("at 12 % vol and 20 °C, 3 g/L", "at 12 % vol and 68 °F, 3 g/L")]
    [InlineData("On the glass: 20 °C, or 60 °F.", "On the glass: 68 °F (20 °C), or 60 °F.")]
    public void TemperatureInASentence_IsWrittenInTheReadersUnit(string text, string read)
    {
        Assert.Equal(read, FixedTemperatures.Written(text, TemperatureUnit.Fahrenheit));
        Assert.Equal(text, FixedTemperatures.Written(text, TemperatureUnit.Celsius));
    }

    [Fact]
    public void TemperatureOfASource_StaysBesideTheReadersOwn() =>
        Assert.Equal("Table of OIV, 68 to 104 °F (20 to 40 °C)", FixedTemperatures.Written("Table of OIV, 20 to 40 °C", TemperatureUnit.Fahrenheit, keepsCelsius: true));

    [Fact]
    public void EverySentence_HasTheSameFahrenheitInEveryLanguageAndNoCelsiusAlone()
    {
        var seen = 0;
        var texts = SheetTexts.Fixed().Select(text => (text.Where, Write: (Func<Reader, string>)(reader => PhraseWords.OfSource(text.Text, reader))))
            .Concat(SheetTexts.Said().DistinctBy(said => said.Phrase.Template).Select(said => (said.Where, Write: (Func<Reader, string>)(reader => PhraseWords.Of(said.Phrase, reader)))));
        foreach (var (where, write) in texts)
        {
            var read = Language.All.Select(language => Speaking(language, write)).ToList();
            Assert.All(read, text => Assert.False(InCelsius(text), $"{where}: {text}"));
            var figures = read.Select(text => string.Join(' ', Fahrenheit().Matches(text).Select(match => match.Groups[1].Value.Replace(" to ", "–", StringComparison.Ordinal).Replace(" bis ", "–", StringComparison.Ordinal)).Order(StringComparer.Ordinal))).ToList();
            Assert.True(figures.Distinct().Count() == 1, $"{where}: {string.Join(" | ", read)}");
            seen += figures[0].Length > 0 ? 1 : 0;
        }

        Assert.True(seen > 40, $"only {seen} texts with a temperature");
    }

    [Fact]
    public void DifferenceOfTemperatures_IsNoTemperature()
    {
        var warm = SheetTexts.Said().Select(said => said.Phrase).First(phrase => phrase.Template.StartsWith("Warm from", StringComparison.Ordinal));
        Assert.Contains("at most 3 °C a day", warm.ToString(), StringComparison.Ordinal);
        Assert.Contains("at most 3\u00a0°C a day", PhraseWords.Of(warm, new Reader(TimeZoneInfo.Utc)), StringComparison.Ordinal);
        Assert.Contains("at most 5\u00a0°F a day", PhraseWords.Of(warm, new Reader(TimeZoneInfo.Utc, American)), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("en")]
    [InlineData("de")]
    [InlineData("fr")]
    public async Task EveryWorksheetOnItsPage_HasNoCelsiusAlone(string language)
    {
        await using var site = await DashboardSite.StartAsync(InventedCellar.Full());
        await LanguageTests.ChooseAsync(site.Client, language);
        await ChooseFahrenheitAsync(site.Client);
        var found = new List<string>();
        var fahrenheit = 0;
        foreach (var sheet in WorksheetCatalog.All)
        {
            foreach (var example in sheet.Examples.Take(3).Select(one => "?sent=yes&" + string.Join('&', one.Given.Select(field => $"{field.Key}={Uri.EscapeDataString(Typed(sheet, field.Key, field.Value))}"))).Prepend(""))
            {
                var html = await site.Client.GetStringAsync("bench/" + sheet.Name + example, TestContext.Current.CancellationToken);
                var text = WebUtility.HtmlDecode(Tags().Replace(html, " "));
                fahrenheit += Fahrenheit().Count(text);
                if (InCelsius(text))
                {
                    found.Add($"{sheet.Name}{example}: {Celsius().Match(Beside().Replace(text, ""))}");
                }
            }
        }

        Assert.True(found.Count == 0, string.Join('\n', found));
        Assert.True(fahrenheit > 100, $"only {fahrenheit} figures in °F");
    }

    [Fact]
    public void EveryNoticeAndHelpersStep_HasNoCelsiusForAReaderOfFahrenheit()
    {
        var now = ReceivedAt.From(new DateTimeOffset(2026, 10, 6, 6, 0, 0, TimeSpan.Zero));
        var seen = 0;
        foreach (var language in Language.All)
        {
            var reader = new Reader(TimeZoneInfo.Utc, American, language);
            foreach (var example in NoticeExamples.All("Quince mead", now))
            {
                foreach (var body in (ValueList<Reason>[])[example.Words.Body, HelperSteps.Of(example.Rule, example.Words.Body)])
                {
                    var message = NoticeText.Write(new OutboxDraft("k", "relay", "k", new BatchId("example"), example.Severity, example.Silent, example.Words.Title, body, now), reader, now, link: null);
                    Assert.DoesNotContain("°C", message.Title + message.Text, StringComparison.Ordinal);
                    seen += Fahrenheit().Count(message.Text);
                }
            }
        }

        Assert.True(seen > 20, $"only {seen} figures in °F");
    }

    private static string Speaking(Language language, Func<Reader, string> write)
    {
        using var spoken = language.Speak();
        return write(new Reader(TimeZoneInfo.Utc, American, language));
    }

    // A bare number of a temperature would be read as °F.
    private static string Typed(Worksheet sheet, string key, string value) =>
        sheet.Inputs.First(input => input.Key == key) is NumberInput number && number.Kind == Oenology.Worksheets.QuantityKind.Temperature && !value.Contains('°', StringComparison.Ordinal) ? value + "°C" : value;

    private static async Task ChooseFahrenheitAsync(HttpClient client)
    {
        var html = await client.GetStringAsync("preferences/units", TestContext.Current.CancellationToken);
        using var content = new FormUrlEncodedContent([new("token", Token().Match(html).Groups[1].Value), new("gravity", "sg"), new("temperature", "fahrenheit"), new("volume", "liters"), new("mass", "grams")]);
        using var answer = await client.PostAsync("preferences/units", content, TestContext.Current.CancellationToken);
        Assert.Contains(answer.StatusCode, new[] { HttpStatusCode.Redirect, HttpStatusCode.SeeOther, HttpStatusCode.OK });
    }

    private static bool InCelsius(string text) => Celsius().IsMatch(Beside().Replace(text, ""));

    [GeneratedRegex(@"\S*.{0,12}°C")]
    private static partial Regex Celsius();

    // '68 °F (20 °C)'.
    [GeneratedRegex(@"(?<=°F )\([^()]*°C\)")]
    private static partial Regex Beside();

    [GeneratedRegex(@"(\d+(?:(?:/|–|-| to | bis )\d+)?)[ \u00a0]°F")]
    private static partial Regex Fahrenheit();

    [GeneratedRegex("<[^>]*>")]
    private static partial Regex Tags();

    [GeneratedRegex("name=\"token\" value=\"([^\"]+)\"")]
    private static partial Regex Token();
}
