using System.Text.RegularExpressions;
using System.Xml.Linq;
using FermentWatch.Service.Dashboard.Bench;
using FermentWatch.Service.Texts;
using FermentWatch.System.Tests.Preferences;
using Xunit;

namespace FermentWatch.System.Tests.Worksheets;

/// <summary>The worksheets in every language: each text of each entry, each sentence that one of them says, the same values and figures in it.</summary>
public sealed partial class SheetLanguageTests
{
    // Names, signs and words that are the same in another language.
    private static readonly HashSet<string> SameWords = new(StringComparer.Ordinal)
    {
        "°Oechsle", "°Baumé", "°Bé = 145 - 145/SG", "Fruit", "Grapefruit", "Mango", "Orange", "Parts", "Xylitol", "Lactose", "Sucralose", "Still", "Volume", "Dextrose", "pH", "pH 7.0", "Dose",
        "Carbonate", "Bentonite", "bentonite", "brut", "brut nature", "extra brut", "demi-sec", "OIV MA-C1-01", "27 CFR 24.246", "27 CFR 4.22(b)(1)",
    };

    // What only the command line can say, and a unit.
    private static readonly string[] NotWords = ["{0} is not a field of {1}; it has {2}.", "% vol"];

    public static TheoryData<string> Codes => [.. Language.All.Where(language => language != Language.English).Select(language => language.Code)];

    [Theory]
    [MemberData(nameof(Codes))]
    public void EveryTextOfTheCatalog_HasItsWords(string code) => Assert.Equal([], SheetTexts.Fixed()
        .Where(text => HasLetters(text.Text) && SheetText.Find(text.Text, Language.Find(code)!) is null)
        .Select(text => $"{text.Where}: {text.Text}"));

    [Theory]
    [MemberData(nameof(Codes))]
    public void EverySentenceAroundTheExamples_HasItsWords(string code) => Assert.Equal([], SheetTexts.Said()
        .Where(said => PhraseWords.HasWords(said.Phrase) && HasLetters(said.Phrase.Template) && SheetText.Find(said.Phrase.Template, Language.Find(code)!) is null)
        .Select(said => $"{said.Where}: {said.Phrase.Template}")
        .Distinct());

    [Theory]
    [MemberData(nameof(Codes))]
    public void EverySentenceInTheSources_HasItsWords(string code) => Assert.Equal([], Written()
        .Where(written => SheetText.Find(written.Template, Language.Find(code)!) is null)
        .Select(written => $"{written.Where}: {written.Template}")
        .Distinct());

    [Fact]
    public void SourcesAreRead() => Assert.True(Written().Count() > 150, $"{Written().Count()} sentences were found.");

    [Theory]
    [MemberData(nameof(Codes))]
    public void EveryTranslation_IsOfATextThatIsThere_WithItsValuesAndFigures(string code)
    {
        var known = SheetTexts.Fixed().Select(text => text.Text)
            .Concat(SheetTexts.Said().Select(said => said.Phrase.Template))
            .Concat(Written().Select(written => written.Template))
            .Concat(SourceTexts())
            .GroupBy(SheetText.Key, text => text, StringComparer.Ordinal).ToDictionary(group => group.Key, group => group.First(), StringComparer.Ordinal);
        var keys = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        foreach (var (key, text) in Read(code))
        {
            Assert.True(keys.Add(key), $"'{key}' stands there twice but for its capitals, which names of resources do not tell apart.");
            Assert.True(known.TryGetValue(key, out var english), $"No worksheet says '{key}' any more.");
            Assert.Equal(Places(english), Places(text));
            Assert.True(Numbers(english).SequenceEqual(Numbers(text)), $"'{text}' has other figures than '{english}'.");
            Assert.False(string.IsNullOrWhiteSpace(text), key);
            Assert.True(text != english || SameWords.Contains(text), $"'{text}' is English.");
        }
    }

    private static IEnumerable<(string Where, string Template)> Written() => SourceSentences.In(Path.Combine(LanguageTests.Repository(), "src", "FermentWatch.Oenology"))
        .Where(written => HasLetters(written.Template) && !NotWords.Contains(written.Template));

    // A text that is a value of another, such as whose limit it is, may be reached by no example.
    private static IEnumerable<string> SourceTexts() => FermentWatch.Oenology.Limits.AdditiveRules.All.SelectMany(rule => rule.Absolute(FermentWatch.Oenology.Limits.DoseContext.Unknown).Append(rule.Recommended))
        .Select(limit => limit?.Source.Text ?? string.Empty).Where(text => text.Length > 0)
        .Concat(["{0}: no limit is known for it.", "{0} for this plan", "at most {0} a flight, control and twin counted", "1 to 20 different names", "from {0} to {1}", "at least {0}: {1} pours of {2}"]);

    // A value may stand twice where its count has two forms.
    private static IEnumerable<string> Places(string text) => Values().Matches(text).Select(match => match.Groups[1].Value).Distinct().Order(StringComparer.Ordinal);

    private static bool HasLetters(string text) => Letters().IsMatch(Values().Replace(text, ""));

    private static IEnumerable<string> Numbers(string text) => Figure().Matches(Values().Replace(text, "")).Select(match => match.Value).Order(StringComparer.Ordinal);

    private static IEnumerable<(string Key, string Text)> Read(string code) =>
        XDocument.Load(Path.Combine(LanguageTests.Repository(), "src", "FermentWatch.Service", "Texts", $"Worksheets.{code}.resx")).Root!
            .Elements("data").Select(data => (data.Attribute("name")!.Value, data.Element("value")!.Value));

    [GeneratedRegex(@"\{(\d+)(?::[^}]*)?\}")]
    private static partial Regex Values();

    [GeneratedRegex(@"\d+(?:[.,]\d+)*")]
    private static partial Regex Figure();

    [GeneratedRegex(@"\p{L}{2}")]
    private static partial Regex Letters();
}
