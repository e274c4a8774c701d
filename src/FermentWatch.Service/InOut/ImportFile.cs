using System.Text;
using FermentWatch.Infrastructure.Storage;

namespace FermentWatch.Service.InOut;

/// <summary>Where an import stands.</summary>
public enum ImportState
{
    /// <summary>The maker looks it over.</summary>
    Previewed = 1,

    /// <summary>Rows are being stored.</summary>
    Running = 2,

    /// <summary>All rows are stored.</summary>
    Done = 3,

    /// <summary>Stopped by the maker: what was stored stays.</summary>
    Canceled = 4,

    /// <summary>The storage failed: what was stored stays.</summary>
    Failed = 5,
}

/// <summary>A file that was handed in, and what becomes of it.</summary>
/// <param name="Key">Its key in addresses.</param>
/// <param name="Name">What it was called.</param>
/// <param name="Path">Where it lies.</param>
/// <param name="AddedAt">When it came.</param>
public sealed record ImportFile(string Key, string Name, string Path, DateTimeOffset AddedAt)
{
    private readonly Encoding _encoding = EncodingOf(Path);

    /// <summary>Where it stands.</summary>
    public ImportState State { get; set; } = ImportState.Previewed;

    /// <summary>What was stored so far.</summary>
    public ImportCounts Counts { get; set; }

    /// <summary>Rows with readings in all.</summary>
    public long Rows { get; set; }

    /// <summary>How it was read, once it was confirmed.</summary>
    public ImportChoices? Choices { get; set; }

    /// <summary>Stops the storing.</summary>
    public CancellationTokenSource Stop { get; } = new();

    /// <summary>The storing itself.</summary>
    public Task Running { get; set; } = Task.CompletedTask;

    /// <summary>The file's text from its begin.</summary>
    public TextReader Open() => new StreamReader(Path, _encoding, detectEncodingFromByteOrderMarks: true);

    /// <summary>UTF-8 unless it is none: then the Western European page that older spreadsheets write.</summary>
    private static Encoding EncodingOf(string path)
    {
        var strict = new UTF8Encoding(encoderShouldEmitUTF8Identifier: false, throwOnInvalidBytes: true);
        try
        {
            using var text = new StreamReader(path, strict, detectEncodingFromByteOrderMarks: true);
            var buffer = new char[8192];
            while (text.Read(buffer) > 0)
            {
            }

            return Encoding.UTF8;
        }
        catch (DecoderFallbackException)
        {
            return Encoding.Latin1;
        }
    }
}
