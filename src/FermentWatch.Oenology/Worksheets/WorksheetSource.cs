namespace FermentWatch.Oenology.Worksheets;

/// <summary>What stands behind a number.</summary>
public enum SourceStanding
{
    /// <summary>Published; the key stands in REFERENCES.md.</summary>
    Published,

    /// <summary>Computed from atomic masses, from exact definitions or from a balance of mass.</summary>
    Computed,

    /// <summary>Common practice, no source.</summary>
    CommonPractice,

    /// <summary>From memory: a sanity check at most.</summary>
    FromMemory,
}

/// <summary>A source of a worksheet.</summary>
/// <param name="Standing">What stands behind it.</param>
/// <param name="Key">Key of REFERENCES.md such as "Tanaka2001"; empty unless published.</param>
/// <param name="Text">What was taken from it.</param>
public sealed record WorksheetSource(SourceStanding Standing, string Key, string Text)
{
    /// <summary>A published source.</summary>
    public static WorksheetSource Published(string key, string text) => new(SourceStanding.Published, key, text);

    /// <summary>Exact arithmetic.</summary>
    public static WorksheetSource Computed(string text) => new(SourceStanding.Computed, string.Empty, text);

    /// <summary>Common practice, no source.</summary>
    public static WorksheetSource CommonPractice(string text) => new(SourceStanding.CommonPractice, string.Empty, text);

    /// <summary>From memory.</summary>
    public static WorksheetSource FromMemory(string text) => new(SourceStanding.FromMemory, string.Empty, text);
}
