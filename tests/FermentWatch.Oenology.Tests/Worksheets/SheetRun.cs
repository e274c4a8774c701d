using FermentWatch.Oenology.Worksheets;

namespace FermentWatch.Oenology.Tests.Worksheets;

/// <summary>Runs a worksheet of the catalogue on fields as they are typed.</summary>
internal static class SheetRun
{
    public static InputFault Fault(string sheet, string given) => Assert.Single(Run(sheet, given).Faults);

    public static IReadOnlyList<string> Notices(string sheet, string given) => [.. Answer(sheet, given).Notices.Select(notice => notice.Code)];

    public static NumberResult Number(string sheet, string given, string key) =>
        Assert.Single(Answer(sheet, given).Results.OfType<NumberResult>(), result => result.Output.Key == key);

    public static WorksheetAnswer Answer(string sheet, string given)
    {
        var outcome = Run(sheet, given);
        Assert.True(outcome.Answer is not null, string.Join(" ", outcome.Faults.Select(fault => fault.Sentence)));
        return outcome.Answer;
    }

    private static WorksheetOutcome Run(string sheet, string given) =>
        WorksheetCatalog.Find(sheet)!.Run(WorkedExample.Of(given, "as typed").Given);
}
