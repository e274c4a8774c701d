using System.Globalization;
using System.Text.RegularExpressions;
using FermentWatch.Oenology.Worksheets;

namespace FermentWatch.Oenology.Tests.Worksheets;

/// <summary>What every entry of the catalogue keeps to; a new entry is checked without a new test.</summary>
public sealed partial class WorksheetCatalogTests
{
    private static readonly Lazy<string> Bibliography = new(() => File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "REFERENCES.md")));

    public static TheoryData<string> Names => [.. WorksheetCatalog.All.Select(sheet => sheet.Name)];

    [Fact]
    public void Names_AreUniqueAndFindTheirSheet()
    {
        Assert.NotEmpty(WorksheetCatalog.All);
        Assert.Equal(WorksheetCatalog.All.Count, WorksheetCatalog.All.Select(sheet => sheet.Name).Distinct().Count());
        Assert.All(WorksheetCatalog.All, sheet => Assert.Same(sheet, WorksheetCatalog.Find(sheet.Name)));
        Assert.Null(WorksheetCatalog.Find("no-such-sheet"));
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Entry_IsWhole(string name)
    {
        var sheet = WorksheetCatalog.Find(name)!;
        Assert.Matches(Key(), sheet.Name);
        Assert.NotEmpty(sheet.Title);
        Assert.EndsWith(".", sheet.Purpose, StringComparison.Ordinal);
        Assert.NotEmpty(sheet.Outputs);
        Assert.NotEmpty(sheet.Sources);
        Assert.NotEmpty(sheet.Examples);
        Assert.All(sheet.Inputs, input => Assert.Matches(Key(), input.Key));
        Assert.All(sheet.Outputs, output => Assert.Matches(Key(), output.Key));
        Assert.Equal(sheet.Inputs.Count, sheet.Inputs.Select(input => input.Key).Distinct().Count());
        Assert.Equal(sheet.Outputs.Count, sheet.Outputs.Select(output => output.Key).Distinct().Count());
        Assert.All(sheet.Inputs.OfType<NumberInput>(), input =>
        {
            Assert.True(input.Low < input.High, input.Key);
            Assert.True(input.Usual is not { } usual || (usual >= input.Low && usual <= input.High), input.Key);
        });
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Sources_StandInTheBibliographyOrSayWhatTheyAre(string name) => Assert.All(WorksheetCatalog.Find(name)!.Sources, source =>
    {
        Assert.NotEmpty(source.Text);
        if (source.Standing is SourceStanding.Published)
        {
            Assert.Contains($"| [{source.Key}] |", Bibliography.Value, StringComparison.Ordinal);
        }
        else
        {
            Assert.Empty(source.Key);
        }
    });

    [Theory]
    [MemberData(nameof(Names))]
    public void Examples_ComeOut(string name)
    {
        var sheet = WorksheetCatalog.Find(name)!;
        Assert.All(sheet.Examples, example =>
        {
            var outcome = sheet.Run(example.Given);
            Assert.True(outcome.Answer is not null, string.Join(" ", outcome.Faults.Select(fault => fault.Sentence)));
            Assert.NotEmpty(example.Source);
            Assert.True(example.Expected.Count + example.ExpectedNotices.Count > 0, "the example expects nothing");
            foreach (var expected in example.Expected)
            {
                var result = Assert.Single(outcome.Answer.Results, result => result.Output.Key == expected.Key);
                if (expected.Text is { } text)
                {
                    Assert.Equal(text, Assert.IsType<TextResult>(result).Lines[0]);
                }
                else
                {
                    Assert.InRange(Assert.IsType<NumberResult>(result).Value, expected.Value - expected.Tolerance, expected.Value + expected.Tolerance);
                }
            }

            Assert.All(example.ExpectedNotices, code => Assert.Contains(outcome.Answer.Notices, notice => notice.Code == code));
        });
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Results_AreOutputsOfTheEntryAndFinite(string name)
    {
        var sheet = WorksheetCatalog.Find(name)!;
        Assert.All(sheet.Examples, example =>
        {
            var answer = sheet.Run(example.Given).Answer!;
            Assert.Equal(answer.IsRefusal, answer.Results.Count == 0);
            Assert.All(answer.Results, result => Assert.Contains(sheet.Outputs, output => output.Key == result.Output.Key && output.Label == result.Output.Label));
            Assert.All(answer.Results.OfType<NumberResult>(), result => Assert.True(double.IsFinite(result.Value) && result.Tolerance is null or >= 0, result.Output.Key));
            Assert.All(answer.Notices, notice => Assert.Matches(Key(), notice.Code));
        });
    }

    // Values from the corners of every range: an answer or a named fault, never an exception and never a number that is none.
    [Theory]
    [MemberData(nameof(Names))]
    public void CornersOfTheRanges_AnswerOrNameAFault(string name)
    {
        var sheet = WorksheetCatalog.Find(name)!;
        const int Seed = 20261125;
        var draw = new Random(Seed);
        for (var round = 0; round < 400; round++)
        {
            var given = sheet.Inputs
                .Select(input => (input.Key, Text: Corner(input, draw)))
                .Where(pair => pair.Text is not null)
                .ToDictionary(pair => pair.Key, pair => pair.Text!);
            var outcome = sheet.Run(given);
            var shown = string.Join(" ", given.Select(pair => $"{pair.Key}={pair.Value}"));
            Assert.True((outcome.Answer is null) == (outcome.Faults.Count > 0), shown);
            Assert.All(outcome.Answer?.Results.OfType<NumberResult>() ?? [], result => Assert.True(double.IsFinite(result.Value), $"{result.Output.Key} with {shown}"));
            Assert.All(outcome.Faults, fault => Assert.Contains(fault.Field, fault.Sentence, StringComparison.Ordinal));
        }
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void UnknownOrBadField_IsNamedWithWhatWouldBeRight(string name)
    {
        var sheet = WorksheetCatalog.Find(name)!;
        var fault = Assert.Single(sheet.Run(new Dictionary<string, string> { ["no-such-field"] = "1" }).Faults, fault => fault.Field == "no-such-field");
        Assert.Contains(sheet.Inputs.Count > 0 ? sheet.Inputs[0].Key : sheet.Name, fault.Sentence, StringComparison.Ordinal);
        Assert.All(sheet.Inputs, input =>
        {
            var bad = Assert.Single(sheet.Run(new Dictionary<string, string> { [input.Key] = "twelve" }).Faults, one => one.Field == input.Key);
            Assert.Contains("twelve", bad.Sentence, StringComparison.Ordinal);
            Assert.Contains(input.Allowed, bad.Sentence, StringComparison.Ordinal);
        });
    }

    private static string? Corner(WorksheetInput input, Random draw)
    {
        if (input.IsOptional && draw.Next(3) == 0)
        {
            return null;
        }

        return input switch
        {
            NumberInput number => Text(Corner(number.Low, number.High, draw)),
            NumberListInput list => string.Join(";", Enumerable.Range(0, draw.Next(list.Fewest, list.Most + 1)).Select(_ => Text(Corner(list.Low, list.High, draw)))),
            ChoiceInput choice => choice.Choices[draw.Next(choice.Choices.Count)].Code,
            _ => throw new InvalidOperationException(input.Key),
        };
    }

    private static double Corner(double low, double high, Random draw) => draw.Next(4) switch
    {
        0 => low,
        1 => high,
        _ => low + ((high - low) * draw.NextDouble()),
    };

    private static string Text(double value) => value.ToString("R", CultureInfo.InvariantCulture);

    [GeneratedRegex("^[a-z0-9]+(-[a-z0-9]+)*$")]
    private static partial Regex Key();
}
