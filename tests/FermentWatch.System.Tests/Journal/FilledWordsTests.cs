using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Worksheets;
using FermentWatch.Service.Dashboard.Bench;
using FermentWatch.Service.Dashboard.Journal;
using FermentWatch.Service.Dashboard.Words;
using FermentWatch.Service.Texts;
using Xunit;

namespace FermentWatch.System.Tests.Journal;

/// <summary>What the house writes into the journal itself is shown in the language and the units of whoever reads it; the maker's own words stay.</summary>
public sealed class FilledWordsTests
{
    private static readonly Reader English = new(TimeZoneInfo.Utc, Units.Usual);
    private static readonly Reader German = new(TimeZoneInfo.Utc, Units.Usual with { Mark = DecimalMark.Comma }, Language.German);
    private static readonly FilledText Tannin = new("sheet/tannin-powder", ValueList.Of(new FilledValue("first-step", 0.75, 2, null)), 0);

    public static TheoryData<string> Names => [.. WorksheetCatalog.All.Select(sheet => sheet.Name)];

    // Every number that any example of any worksheet gives comes back from the line as it was, and has words in every language.
    [Theory]
    [MemberData(nameof(Names))]
    public void ResultOfEveryWorksheet_ComesBackFromItsLineAndHasWordsInEveryLanguage(string name)
    {
        var sheet = WorksheetCatalog.Find(name)!;
        foreach (var answer in sheet.Examples.Select(example => sheet.Run(example.Given).Answer).OfType<WorksheetAnswer>().Where(answer => answer.Results.Count > 0))
        {
            var filled = FilledWords.OfSheet(sheet, answer);
            var line = FilledWords.Written(filled);
            Assert.Equal(filled, FilledWords.Read(line));
            var seen = new HashSet<string>();
            foreach (var language in Language.All)
            {
                using var spoken = language.Speak();
                var words = FilledWords.Of(filled, new Reader(TimeZoneInfo.Utc, Units.Usual, language))!;
                Assert.True(words.Length <= 500, words);
                Assert.True(seen.Add(words), $"{name} says the same in two languages: {words}");
                var amounts = answer.Results.OfType<NumberResult>().Select(result => SheetResult.Of(result, English).Amount!).ToList();
                Assert.True(words.EndsWith('…') || amounts.TrueForAll(amount => words.Contains(amount.Split(Figures.NoBreak)[0], StringComparison.Ordinal)), words);
            }
        }
    }

    [Fact]
    public void EntryOfASheet_IsReadInTheReadersLanguageWithTheMakersWordsBehind()
    {
        var sheet = WorksheetCatalog.Find("tannin-powder")!;
        var number = sheet.Outputs.OfType<NumberOutput>().First();
        var filled = new FilledText("sheet/tannin-powder", ValueList.Of(new FilledValue(number.Key, 1.25, 2, null)), 0);
        var words = FilledWords.Of(filled, English)!;
        Assert.StartsWith("By the worksheet ‘" + sheet.Title + "’: " + number.Label + " 1.25", words, StringComparison.Ordinal);
        var kept = FilledWords.Kept(words + ". Wren stirred", FilledWords.Written(filled), English);
        Assert.Equal(filled with { Length = words.Length }, kept);
        var entry = new JournalEntry(1, JournalKind.Note, default, words + ". Wren stirred", null, null, Undone: false) { Filled = kept };
        Assert.Equal(": " + words + ". Wren stirred", EntryWords.Rest(entry, English));

        using var spoken = Language.German.Speak();
        var german = FilledWords.Text(entry, German);
        Assert.StartsWith("Nach dem Rechenblatt „", german, StringComparison.Ordinal);
        Assert.EndsWith(". Wren stirred", german, StringComparison.Ordinal);
        Assert.Contains("1,25", german, StringComparison.Ordinal);
        Assert.Equal(german, ReasonWords.Of(JournalReading.ToEvent(entry).What, German));

        // Corrected by a German reader, the German words are what the form began with.
        Assert.NotNull(FilledWords.Kept(german, FilledWords.Written(kept!), German));
    }

    [Fact]
    public void WordsThatTheMakerChanged_AreTheMakersOwn() =>
        Assert.Null(FilledWords.Kept("I weighed it by feel", FilledWords.Written(Tannin), English));

    [Fact]
    public void EntryFromBeforeOrOfASheetThatIsGone_KeepsItsText()
    {
        var entry = new JournalEntry(1, JournalKind.Note, default, "By the worksheet ‘Old’: powder 2 g", null, null, Undone: false);
        Assert.Equal(entry.Text, FilledWords.Text(entry, German));
        Assert.All(
            (FilledText[])[new("sheet/nothing-like-it", Tannin.Values, 5), new("sheet/tannin-powder", ValueList.Of(new FilledValue("no-result", 1, 1, null)), 5), new("elsewhere", Tannin.Values, 5), Tannin with { Length = 4000 }],
            filled => Assert.Equal(entry.Text, FilledWords.Text(entry with { Filled = filled }, German)));
    }

    [Theory]
    [InlineData("")]
    [InlineData("sheet/tannin-powder;dose")]
    [InlineData("sheet/tannin-powder;dose~NaN~1")]
    [InlineData("sheet/tannin-powder;dose~1~99")]
    [InlineData("sheet/tannin-powder;dose~1~2~3")]
    public void LineThatNobodyOfOursWrote_IsNotRead(string line) => Assert.Null(FilledWords.Read(line));

    [Fact]
    public void LineWithAForeignKey_HasNoWords()
    {
        Assert.Null(FilledWords.Of(FilledWords.Read("trial/lead;additive~honey")!, English));
        Assert.Null(FilledWords.Of(FilledWords.Read("trial/journal-scale;state~Told;additive~x")!, English));
    }

    [Theory]
    [InlineData("journal-sample", "question~Sweetener;glasses~5~0", "Bench trial: How sweet? 5 glasses.", "Probereihe: Wie süß? 5 Gläser.")]
    [InlineData("journal-sample", "question~two;glasses~1~0", "Bench trial: Which balance? 1 glass.", "Probereihe: Welches Gleichgewicht? 1 Glas.")]
    [InlineData("journal-jars", "jars~3~0", "Bench trial: 3 jars.", "Probereihe: 3 Standproben.")]
    [InlineData("journal-scale-note", "additive~honey;grams~12.5~1", "From a bench trial: honey, 12.5\u00a0g.", "Aus einer Probereihe: Honig, 12,5\u00a0g.")]
    public void EntryOfATrial_IsReadInTheReadersLanguage(string key, string values, string english, string german)
    {
        var filled = FilledWords.Read($"trial/{key};{values}")!;
        Assert.Equal(english, FilledWords.Of(filled, English));
        using var spoken = Language.German.Speak();
        Assert.Equal(german, FilledWords.Of(filled, German));
    }
}
