using System.Globalization;
using System.Text.RegularExpressions;
using System.Xml.Linq;
using FermentWatch.Service.Dashboard.Trials;
using FermentWatch.Service.Dashboard.Words;
using FermentWatch.Service.Texts;
using Xunit;

namespace FermentWatch.System.Tests.Preferences;

/// <summary>One and many. Source of the rules: Unicode CLDR, plural rules of cardinals (en and de: one is i = 1 and v = 0; fr: one is i = 0,1).</summary>
public sealed partial class PluralTests
{
    [Theory]
    [InlineData("en", "0 rows", "1 row", "2 rows", "1\u202f000 rows")]
    [InlineData("de", "0 Zeilen", "1 Zeile", "2 Zeilen", "1\u202f000 Zeilen")]
    [InlineData("fr", "0 ligne", "1 ligne", "2 lignes", "1\u202f000 lignes")]
    public void Rows_AreCountedAsTheLanguageDoes(string code, params string[] counted)
    {
        using var spoken = Language.Find(code)!.Speak();
        var text = new TextSource("InOut");
        Assert.All(
            counted.Zip(new long[] { 0, 1, 2, 1000 }),
            pair => Assert.Contains(pair.First, text.Of("import-running", Figures.Count(pair.Second)), StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("fr", "0", "one")]
    [InlineData("fr", "1,5", "one")]
    [InlineData("fr", "2", "many")]
    [InlineData("de", "0", "many")]
    [InlineData("de", "1,5", "many")]
    [InlineData("de", "1", "one")]
    [InlineData("de", "-1", "many")]
    [InlineData("en", "several", "many")]
    public void FigureWrittenForTheReader_IsUnderstood(string code, string figure, string form)
    {
        using var spoken = Language.Find(code)!.Speak();
        Assert.Equal(form, string.Format(PluralForms.Present, "{0:one|many}", figure));
    }

    [Fact]
    public void OtherFormats_AreAsTheInvariantCultureWrites() =>
        Assert.Equal("1.50, 3, x", string.Format(PluralForms.Present, "{0:0.00}, {1}, {2}", 1.5, 3, "x"));

    [Theory]
    [InlineData("en", "1 row stands for 1 gravity reading.")]
    [InlineData("de", "1 Zeile steht für 1 Messwert der Dichte.")]
    [InlineData("fr", "1 ligne représente 1 mesure de densité.")]
    public void TwoCountsOfASentence_EachTakeTheirForm(string code, string sentence)
    {
        using var spoken = Language.Find(code)!.Speak();
        Assert.Equal(sentence, PageText.Counted("table-lead", 1, Figures.Count(1)).Replace('\u00a0', ' '));
    }

    [Theory]
    [InlineData("en", "none", "0\u00a0g/L")]
    [InlineData("de", "nichts", "0\u00a0g/L")]
    [InlineData("fr", "rien", "0\u00a0g/L")]
    public void NoDose_IsAWordInATable_AndANumberInASentence(string code, string alone, string inSentence)
    {
        var language = Language.Find(code)!;
        using var spoken = language.Speak();
        var reader = new Reader(TimeZoneInfo.Utc, null, language);
        Assert.Equal((alone, inSentence), (TrialWords.Dose(0, reader), TrialWords.DoseInSentence(0, reader)));
        Assert.Equal("2\u00a0g/L", TrialWords.DoseInSentence(2, reader));
    }

    [Fact]
    public void EveryPluralOfTheTexts_HasTwoForms()
    {
        var found = 0;
        foreach (var path in Directory.EnumerateFiles(Path.Combine(LanguageTests.Repository(), "src", "FermentWatch.Service", "Texts"), "*.resx"))
        {
            foreach (Match plural in XDocument.Load(path).Root!.Elements("data").SelectMany(data => Plural().Matches(data.Element("value")!.Value)))
            {
                found++;
                var forms = plural.Groups[1].Value.Split('|');
                Assert.True(forms.Length == 2 && forms.All(form => form.Length > 0), $"{Path.GetFileName(path)}: {plural.Value}");
            }
        }

        Assert.True(found > 100, found.ToString(CultureInfo.InvariantCulture));
    }

    [GeneratedRegex(@"\{\d+:([^{}]*\|[^{}]*)\}")]
    private static partial Regex Plural();
}
