using System.Text.Json.Serialization;

namespace FermentWatch.Oenology.Worksheets;

/// <summary>How much a notice weighs.</summary>
public enum NoticeWeight
{
    /// <summary>Good to know.</summary>
    Note,

    /// <summary>Beyond what is recommended, or beyond what is known: the numbers are shown, and this beside them.</summary>
    Warning,

    /// <summary>No number is given, for this reason.</summary>
    Refusal,
}

/// <summary>A sentence beside the results.</summary>
/// <param name="Weight">How much it weighs.</param>
/// <param name="Code">Its name, for tests and translations: lower case, words joined by hyphens.</param>
/// <param name="Words">The sentence, with value and limit.</param>
public sealed record WorksheetNotice(NoticeWeight Weight, string Code, Phrase Words)
{
    /// <summary>The sentence in English.</summary>
    public string Text => Words.ToString();

    /// <summary>Good to know.</summary>
    public static WorksheetNotice Note(string code, Phrase text) => new(NoticeWeight.Note, code, text);

    /// <summary>Beyond what is recommended or known.</summary>
    public static WorksheetNotice Warning(string code, Phrase text) => new(NoticeWeight.Warning, code, text);

    /// <summary>Why no number is given.</summary>
    public static WorksheetNotice Refusal(string code, Phrase text) => new(NoticeWeight.Refusal, code, text);
}

/// <summary>What a worksheet computed from values that were all allowed.</summary>
/// <param name="Results">Results in the order in which they are shown; none when it refuses.</param>
/// <param name="Notices">Sentences beside them.</param>
public sealed record WorksheetAnswer(IReadOnlyList<WorksheetResult> Results, IReadOnlyList<WorksheetNotice> Notices)
{
    /// <summary>Results without a notice.</summary>
    public static WorksheetAnswer Of(params IReadOnlyList<WorksheetResult> results) => new(results, []);

    /// <summary>A refusal: no numbers, and why.</summary>
    public static WorksheetAnswer Refuse(string code, Phrase text) => new([], [WorksheetNotice.Refusal(code, text)]);

    /// <summary>Whether it refused.</summary>
    public bool IsRefusal => Notices.Any(notice => notice.Weight is NoticeWeight.Refusal);
}

/// <summary>A field that can't be read or is outside its range.</summary>
/// <param name="Field">Key of the field.</param>
/// <param name="Value">What was given; empty when nothing was.</param>
/// <param name="Words">Field, value and what would be right, in one sentence.</param>
public sealed record InputFault(string Field, string Value, [property: JsonIgnore] Phrase Words)
{
    /// <summary>The sentence in English.</summary>
    public string Sentence => Words.ToString();
}

/// <summary>What came of a run: an answer, or the faults of what was given.</summary>
/// <param name="Answer">Null when there is a fault.</param>
/// <param name="Faults">Empty when there is an answer.</param>
public sealed record WorksheetOutcome(WorksheetAnswer? Answer, IReadOnlyList<InputFault> Faults);
