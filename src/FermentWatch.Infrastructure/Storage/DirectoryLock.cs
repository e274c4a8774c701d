using System.Globalization;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>
/// The lock that keeps a second service off a data directory. It is the operating system's own, so it ends with the
/// process that holds it, however that ends; the file itself stays and means nothing without its lock.
/// </summary>
internal sealed class DirectoryLock : IDisposable
{
    private readonly FileStream _file;

    private DirectoryLock(FileStream file) => _file = file;

    /// <summary>Creates the directory when needed (owner only on Unix) and takes its lock.</summary>
    /// <exception cref="DataDirectoryException">Not writable, or locked by another service.</exception>
    public static DirectoryLock Take(StoreOptions options)
    {
        CreateDirectory(options.DataDirectory);
        try
        {
            var settings = new FileStreamOptions
            {
                Mode = FileMode.OpenOrCreate,
                Access = FileAccess.ReadWrite,
                Share = FileShare.None,
            };
            if (!OperatingSystem.IsWindows())
            {
                settings.UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite;
            }

            var file = new FileStream(options.LockPath, settings);
            // In a file of its own, since the locked one cannot be read by those whom it keeps out.
            File.WriteAllText(options.HolderPath, Environment.ProcessId.ToString(CultureInfo.InvariantCulture));
            return new DirectoryLock(file);
        }
        catch (UnauthorizedAccessException denied)
        {
            throw NotWritable(options.DataDirectory, denied);
        }
        catch (IOException failed) when (!IsHeld(failed))
        {
            throw NotWritable(options.DataDirectory, failed);
        }
        catch (IOException failed)
        {
            throw new DataDirectoryException(
                DataDirectoryProblem.InUse,
                $"The data directory '{options.DataDirectory}' is in use by another running service{HolderOf(options.HolderPath)}. "
                + "Stop that one first, or give this one a directory of its own with --data.",
                failed);
        }
    }

    /// <inheritdoc/>
    public void Dispose() => _file.Dispose();

    /// <summary>Creates a directory for its owner alone.</summary>
    internal static void CreateDirectory(string path)
    {
        try
        {
            if (OperatingSystem.IsWindows())
            {
                Directory.CreateDirectory(path);
            }
            else
            {
                Directory.CreateDirectory(path, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);
            }
        }
        catch (Exception failed) when (failed is IOException or UnauthorizedAccessException or NotSupportedException or ArgumentException)
        {
            throw NotWritable(path, failed);
        }
    }

    private static DataDirectoryException NotWritable(string path, Exception cause) => new(
        DataDirectoryProblem.NotWritable,
        $"The data directory '{path}' cannot be created or written: {cause.Message} "
        + "Give a directory that the user running the service may write, on a disk with free space, with --data.",
        cause);

    /// <summary>A held lock and a failing disk raise the same type: EWOULDBLOCK is 11 on Linux and 35 on macOS, ERROR_SHARING_VIOLATION 32 on Windows.</summary>
    private static bool IsHeld(IOException failure) => failure.HResult is 11 or 35 or unchecked((int)0x80070020);

    private static string HolderOf(string path)
    {
        try
        {
            return $" (process {File.ReadAllText(path)})";
        }
        catch (Exception unreadable) when (unreadable is IOException or UnauthorizedAccessException)
        {
            return string.Empty;
        }
    }
}
