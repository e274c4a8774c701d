namespace FermentWatch.Infrastructure.Storage;

/// <summary>What became of a message of the inbox. Stored by number: never renumber.</summary>
public enum InboxOutcome
{
    /// <summary>Not decoded yet.</summary>
    Pending = 0,

    /// <summary>All that it holds was stored as readings.</summary>
    Stored = 1,

    /// <summary>All that it holds was known already: the same values at the same device times.</summary>
    Known = 2,

    /// <summary>Some of it was stored or known; the rest was rejected, with reasons.</summary>
    PartlyRejected = 3,

    /// <summary>Nothing in it could be read, with reasons.</summary>
    Rejected = 4,

    /// <summary>Above 8 kB: its first 256 bytes and its size were kept, and it is not decoded.</summary>
    TooLarge = 5,

    /// <summary>A retained message: last known, age unknown, never a reading.</summary>
    LastKnown = 6,

    /// <summary>No mapping wanted anything of it.</summary>
    NotMapped = 7,
}
