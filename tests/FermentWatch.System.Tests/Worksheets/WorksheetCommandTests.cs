using System.Text.Json;
using FermentWatch.Oenology.Worksheets;
using FermentWatch.Service.Commands;
using Xunit;

namespace FermentWatch.System.Tests.Worksheets;

public sealed class WorksheetCommandTests
{
    [Fact]
    public void ListAsJson_NamesEveryEntryWithFieldsSourcesCautionsAndExamples()
    {
        var (exit, output, error) = Run(null, [], list: true, json: true);

        Assert.Equal((0, string.Empty), (exit, error));
        using var document = JsonDocument.Parse(output);
        var sheets = document.RootElement.GetProperty("worksheets").EnumerateArray().ToList();
        Assert.Equal(WorksheetCatalog.All.Select(sheet => sheet.Name), sheets.Select(sheet => sheet.GetProperty("name").GetString()));
        Assert.All(sheets, sheet =>
        {
            Assert.NotEmpty(sheet.GetProperty("outputs").EnumerateArray());
            Assert.NotEmpty(sheet.GetProperty("sources").EnumerateArray());
            Assert.NotEmpty(sheet.GetProperty("examples").EnumerateArray());
            Assert.Equal(JsonValueKind.Array, sheet.GetProperty("cautions").ValueKind);
            Assert.All(sheet.GetProperty("inputs").EnumerateArray(), input => Assert.NotEmpty(input.GetProperty("allowed").GetString()!));
        });
    }

    // Every example as a user would type it: through the text of the command, in both forms.
    [Fact]
    public void Examples_ComputeOrRefuseInBothForms() => Assert.All(WorksheetCatalog.All, sheet => Assert.All(sheet.Examples, example =>
    {
        var fields = example.Given.Select(field => $"{field.Key}={field.Value}").ToList();
        var plain = Run(sheet.Name, fields, list: false, json: false);
        var json = Run(sheet.Name, fields, list: false, json: true);

        Assert.Contains(plain.Exit, new[] { 0, WorksheetCommand.Refused });
        Assert.Equal(plain.Exit, json.Exit);
        Assert.Equal((string.Empty, string.Empty), (plain.Error, json.Error));
        Assert.All(sheet.Cautions, caution => Assert.Contains(caution.Text, plain.Output, StringComparison.Ordinal));
        using var document = JsonDocument.Parse(json.Output);
        Assert.Equal(plain.Exit == WorksheetCommand.Refused, document.RootElement.GetProperty("refused").GetBoolean());
        foreach (var result in document.RootElement.GetProperty("results").EnumerateArray().Where(result => result.GetProperty("type").GetString() == "number"))
        {
            Assert.Contains(result.GetProperty("shown").GetString()!, plain.Output, StringComparison.Ordinal);
        }
    }));

    [Fact]
    public void ValueOutOfItsRange_EndsWithTwoAndNamesFieldValueAndRange()
    {
        var (exit, output, error) = Run("alcohol-from-gravity", ["original-gravity=109", "present-gravity=1,010"], list: false, json: false);

        Assert.Equal((WorksheetCommand.BadInput, string.Empty), (exit, output));
        Assert.Contains("original-gravity is 109; it must be a number from 1 to 1.2 SG.", error, StringComparison.Ordinal);
        Assert.Contains("present-gravity is 1,010; it must be a number from 0.97 to 1.2 SG.", error, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("no-such-sheet", "original-gravity=1.09", "NAME is no-such-sheet; it must be one of alcohol-from-gravity")]
    [InlineData("alcohol-from-gravity", "gravity=1.09", "gravity is not a field of alcohol-from-gravity; it has original-gravity, present-gravity.")]
    [InlineData("alcohol-from-gravity", "1.09", "1.09 is not a field with its value; write it as key=value")]
    [InlineData("alcohol-from-gravity", "original-gravity=1.09", "present-gravity is missing; it must be a number from 0.97 to 1.2 SG.")]
    public void WhatCannotBeRead_EndsWithTwoAndSaysWhatWouldBeRight(string name, string field, string sentence)
    {
        var (exit, output, error) = Run(name, [field], list: false, json: false);

        Assert.Equal((WorksheetCommand.BadInput, string.Empty), (exit, output));
        Assert.Contains(sentence, error, StringComparison.Ordinal);
    }

    [Fact]
    public void SameFieldTwice_IsRefused() =>
        Assert.Equal(WorksheetCommand.BadInput, Run("alcohol-from-gravity", ["original-gravity=1.09", "original-gravity=1.1", "present-gravity=1"], list: false, json: false).Exit);

    [Fact]
    public void OtherUnit_IsConverted()
    {
        // 20 °P is a gravity of 1.0829 [CRC102]: 1081.0 / 998.2.
        var (exit, output, _) = Run("alcohol-from-gravity", ["original-gravity=20 °P", "present-gravity=1.0829"], list: false, json: true);

        Assert.Equal(0, exit);
        using var document = JsonDocument.Parse(output);
        var alcohol = document.RootElement.GetProperty("results").EnumerateArray().Single(result => result.GetProperty("name").GetString() == "alcohol");
        Assert.InRange(alcohol.GetProperty("value").GetDouble(), 0, 0.05);
    }

    private static (int Exit, string Output, string Error) Run(string? name, IReadOnlyList<string> fields, bool list, bool json)
    {
        using var output = new StringWriter();
        using var error = new StringWriter();
        return (WorksheetCommand.Run(name, fields, list, json, output, error), output.ToString(), error.ToString());
    }
}
