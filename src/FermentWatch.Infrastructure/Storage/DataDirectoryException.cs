namespace FermentWatch.Infrastructure.Storage;

/// <summary>Why a data directory cannot be used.</summary>
public enum DataDirectoryProblem
{
    /// <summary>It cannot be created, read or written.</summary>
    NotWritable = 1,

    /// <summary>Another running service works on it.</summary>
    InUse = 2,

    /// <summary>Its database was written by a newer version of the program.</summary>
    NewerSchema = 3,

    /// <summary>Its database is damaged.</summary>
    Damaged = 4,

    /// <summary>The file in its place is not a database of this program.</summary>
    ForeignFile = 5,

    /// <summary>A batch of the configuration has the key of one that was started on the page.</summary>
    BatchKeyTaken = 6,
}

/// <summary>The data directory cannot be used at start. The message names the path and says what would be right.</summary>
public sealed class DataDirectoryException : Exception
{
    /// <summary>Says which problem it is and what to do.</summary>
    public DataDirectoryException(DataDirectoryProblem problem, string message, Exception? innerException = null)
        : base(message, innerException) => Problem = problem;

    /// <summary>Which problem it is.</summary>
    public DataDirectoryProblem Problem { get; }
}
