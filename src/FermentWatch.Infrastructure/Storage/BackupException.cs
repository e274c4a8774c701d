namespace FermentWatch.Infrastructure.Storage;

/// <summary>A backup could not be made or taken back. The message names the file and says what would be right.</summary>
public sealed class BackupException : Exception
{
    /// <summary>Says what is wrong and what to do.</summary>
    public BackupException(string message, Exception? innerException = null)
        : base(message, innerException)
    {
    }
}
