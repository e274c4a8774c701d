using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Oenology.Worksheets;
using FermentWatch.Service.Dashboard.Bench;
using FermentWatch.Service.Dashboard.Journal;
using FermentWatch.Service.Dashboard.Preferences;
using FermentWatch.Service.Dashboard.Words;
using Xunit;

namespace FermentWatch.System.Tests.Dashboard;

/// <summary>What worksheets leave in the journal: every one has its line, and what its examples offer is what the journal takes.</summary>
public sealed class SheetRecordTests
{
    private static readonly Reader Metric = new(TimeZoneInfo.Utc, Units.Usual);

    public static TheoryData<string> Names => [.. WorksheetCatalog.All.Select(sheet => sheet.Name)];

    [Fact]
    public void EveryWorksheet_HasOneLineAndNoLineIsForNothing() =>
        Assert.Equal(WorksheetCatalog.All.Select(sheet => sheet.Name).Order(StringComparer.Ordinal), SheetRecordCatalog.All.Select(record => record.Sheet).Order(StringComparer.Ordinal));

    // Every example that gives a result is offered as an entry which the journal's own check takes, unless the line says that there is nothing to write.
    [Theory]
    [MemberData(nameof(Names))]
    public void Examples_AreOfferedAsEntriesThatTheJournalTakes(string name)
    {
        var sheet = WorksheetCatalog.Find(name)!;
        var record = SheetRecordCatalog.Find(name)!;
        var keys = sheet.Outputs.Select(output => output.Key).ToHashSet();
        Assert.All(record.Offers, offer =>
        {
            Assert.True(offer.Weighed is null || keys.Contains(offer.Weighed), $"{offer.Weighed} is no result of {name}");
            Assert.All(offer.Fills, fill => Assert.NotNull(JournalCatalog.Of(offer.Kind).Field(fill.Field)));
        });
        var seen = new HashSet<JournalKind>();
        foreach (var example in sheet.Examples)
        {
            var state = Typed(sheet, example.Given);
            var ways = SheetRecording.Of(state, new PreferenceSet(), Metric);
            if (record.Nothing is not null)
            {
                Assert.Empty(ways);
                Assert.NotEmpty(BenchText.Of("nothing-" + record.Nothing));
                continue;
            }

            Assert.Equal(state.Answer is { IsRefusal: false, Results.Count: > 0 }, ways.Count > 0);
            foreach (var way in ways)
            {
                seen.Add(way.Kind.Kind);
                var sent = way.Query.Split('&').Select(part => part.Split('=', 2)).ToDictionary(part => part[0], part => Uri.UnescapeDataString(part[1]), StringComparer.Ordinal);
                Assert.Equal(way.Kind.Key, sent["kind"]);
                // What the form begins with.
                sent["text"] = FilledWords.Of(FilledWords.Read(sent["filled"])!, Metric)!;
                var read = JournalForm.Read(way.Kind, field => sent.GetValueOrDefault(field, ""), new FieldNumbers(Metric).Read);
                // How a bottle is kept safe is the maker's own choice: no worksheet makes it.
                Assert.All(read.Faults, fault => Assert.Equal((JournalKind.Bottled, "path"), (way.Kind.Kind, fault.Key)));
            }
        }

        // A line whose offers no example ever makes would be a dead one.
        Assert.True(record.Nothing is not null || record.Offers.Any(offer => seen.Contains(offer.Kind)), $"no example of {name} is offered as anything but a note");
    }

    // Computed by hand: 20 L x 15.5/(2/3) mg/L / 0.5763 = 0.808 g (the sheet's own example); the bench scale shows tenths.
    [Fact]
    public void Sulfite_IsOfferedAsTheScaleShowsIt()
    {
        var state = Typed(WorksheetCatalog.Find("sulfite-dose")!, Given("volume=20 ph=3.3 free-sulfite=10 total-sulfite=60"));
        var first = SheetRecording.Of(state, new PreferenceSet(), Metric)[0];
        Assert.Equal(JournalKind.SulfiteAdded, first.Kind.Kind);
        Assert.Contains("sulfite=0.8&", first.Query, StringComparison.Ordinal);
        var fine = SheetRecording.Of(state, new PreferenceSet { BenchScale = ScaleStep.Hundredth }, Metric)[0];
        Assert.Contains("sulfite=0.81&", fine.Query, StringComparison.Ordinal);
    }

    [Fact]
    public void SodiumSaltAndLemonJuice_BecomeANoteBecauseNoFieldIsTheirs()
    {
        var sodium = SheetRecording.Of(Typed(WorksheetCatalog.Find("sulfite-dose")!, Given("volume=20 ph=3.3 free-sulfite=10 salt=sodium")), new PreferenceSet(), Metric);
        Assert.Equal(JournalKind.Note, Assert.Single(sodium).Kind.Kind);
        var filled = sodium[0].Query.Split("filled=")[1];
        Assert.Contains("Powder first", FilledWords.Of(FilledWords.Read(Uri.UnescapeDataString(filled))!, Metric), StringComparison.Ordinal);
    }

    [Fact]
    public void Weighing_RoundsOnceGivesTheAchievedDoseAndNoAmountBelowAStep()
    {
        var coarse = SheetWeighing.Of(12.34, new PreferenceSet());
        Assert.Equal("12.3\u00a0g", coarse.Amount(Metric));
        // 12.3/12.34 = 99.68 %; 12.3 g in 23 L = 0.5348 g/L.
        Assert.Equal("Computed 12.34\u00a0g; the scale shows steps of 0.1\u00a0g. What is weighed is 99.7 % of that: 0.535\u00a0g/L in 23.0\u00a0L.", coarse.Beside(23, Metric));
        var heavy = SheetWeighing.Of(1234.4, new PreferenceSet());
        Assert.Equal("1234\u00a0g", heavy.Amount(Metric)!.Replace("\u202f", "", StringComparison.Ordinal));
        var little = SheetWeighing.Of(0.04, new PreferenceSet());
        Assert.Null(little.Amount(Metric));
        Assert.Contains("less than one step of 0.1\u00a0g", little.Beside(23, Metric), StringComparison.Ordinal);
    }

    private static Dictionary<string, string> Given(string text) =>
        text.Split(' ').Select(part => part.Split('=')).ToDictionary(part => part[0], part => part[1], StringComparer.Ordinal);

    private static SheetState Typed(Worksheet sheet, IReadOnlyDictionary<string, string> given) => SheetState.Of(
        sheet,
        key => given.TryGetValue(key, out var text) ? Shown(sheet.Inputs.Single(input => input.Key == key), text) : null,
        new Dictionary<string, BatchValue>(), isSent: true, Metric);

    private static string Shown(WorksheetInput input, string text) => input switch
    {
        NumberInput number when number.Kind.TryRead(text, out var kept) => SheetFields.Typed(number.Kind, kept, Metric),
        NumberListInput list => string.Join(';', text.Split(';').Select(part => list.Kind.TryRead(part, out var kept) ? SheetFields.Typed(list.Kind, kept, Metric) : part)),
        _ => text,
    };
}
