using System.Text.RegularExpressions;
using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Worksheets;

namespace FermentWatch.Oenology.Tests.Limits;

/// <summary>Everything that a worksheet says or returns: no number is ever called by that word.</summary>
public sealed partial class WordsTests
{
    public static TheoryData<string> Names => [.. WorksheetCatalog.All.Select(sheet => sheet.Name)];

    [Theory]
    [MemberData(nameof(Names))]
    public void TextsAndOutputs_NeverSaySafe(string name)
    {
        var sheet = WorksheetCatalog.Find(name)!;
        var words = new List<string> { sheet.Name, sheet.Title, sheet.Purpose };
        words.AddRange(sheet.Inputs.SelectMany(input => new[] { input.Key, input.Label, input.Help ?? string.Empty, input.Allowed }));
        words.AddRange(sheet.Inputs.OfType<ChoiceInput>().SelectMany(input => input.Choices.SelectMany(choice => new[] { choice.Code, choice.Label })));
        words.AddRange(sheet.Outputs.SelectMany(output => new[] { output.Key, output.Label }));
        words.AddRange(sheet.Sources.Select(source => source.Text));
        words.AddRange(sheet.Cautions.Select(caution => caution.Text));
        foreach (var example in sheet.Examples)
        {
            var answer = sheet.Run(example.Given).Answer!;
            words.Add(example.Source);
            words.AddRange(answer.Notices.SelectMany(notice => new[] { notice.Code, notice.Text }));
            words.AddRange(answer.Results.OfType<TextResult>().SelectMany(result => result.Lines));
        }

        Assert.All(words, text => Assert.DoesNotMatch(Safe(), text));
    }

    [Fact]
    public void Cautions_NeverSaySafe_AndHaveCodesOfTheirOwn()
    {
        Assert.All(Caution.All, caution => Assert.DoesNotMatch(Safe(), caution.Text));
        Assert.Equal(Caution.All.Count, Caution.All.Select(caution => caution.Code).Distinct().Count());
    }

    [GeneratedRegex(@"\b(un)?safe(ly|r|ty)?\b", RegexOptions.IgnoreCase)]
    private static partial Regex Safe();
}
