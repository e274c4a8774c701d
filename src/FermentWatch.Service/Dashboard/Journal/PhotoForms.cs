using System.Globalization;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Service.Dashboard.Forms;
using FermentWatch.Service.Dashboard.Words;
using FermentWatch.Service.Photos;
using Microsoft.Net.Http.Headers;

namespace FermentWatch.Service.Dashboard.Journal;

/// <summary>Takes photos of the journal and shows them.</summary>
internal static class PhotoForms
{
    /// <summary>Name of the field.</summary>
    public const string Field = "photo";

    /// <summary>What the field offers to choose from: a phone then turns what it keeps in another format into one of these.</summary>
    public const string Accepted = "image/jpeg,image/png,image/webp";

    /// <summary>Most bytes of a whole request: beyond the largest photo there is room to say in words that it is too large.</summary>
    public const long LargestRequest = 4 * PhotoReader.LargestFile;

    /// <summary>Relative link to a photo.</summary>
    public static string LinkTo(string batch, long number, bool isSmall) =>
        string.Create(CultureInfo.InvariantCulture, $"{batch}/photo/{number}{(isSmall ? "/small" : "")}");

    /// <summary>Whether a file was chosen.</summary>
    public static bool IsSent(SentForm form) => form.Fields.Files.GetFile(Field) is { Length: > 0 };

    /// <summary>The photo that was sent, or the sentence that says what would be right; neither when none was.</summary>
    public static async Task<(Photo? Photo, string? Fault)> ReadAsync(SentForm form, CancellationToken cancellation)
    {
        if (form.Fields.Files.GetFile(Field) is not { Length: > 0 } file)
        {
            return (null, null);
        }

        await using var content = file.OpenReadStream();
        var (photo, fault) = await form.Service<PhotoReader>().ReadAsync(content, cancellation);
        return (photo, fault is null ? null : Words(fault.Value, Path.GetFileName(file.FileName), file.Length));
    }

    /// <summary>A photo, whole or small, to whoever may read the batch.</summary>
    public static IResult Show(HttpContext context, string id, long photo, bool isSmall)
    {
        if (context.RequestServices.GetService<Store>()?.ReadPhoto(new BatchId(id), photo) is not { } found)
        {
            return JournalHosting.NotFound(context, DashboardHosting.VisitOf(context));
        }

        // Kept by this browser alone, and asked for again each time: after a sign-out it is not shown any more.
        context.Response.Headers.CacheControl = "private, no-cache";
        var tag = new EntityTagHeaderValue(string.Create(CultureInfo.InvariantCulture, $"\"{photo}{(isSmall ? "s" : "")}\""));
        return Results.Bytes(isSmall ? found.Small : found.Jpeg, "image/jpeg", entityTag: tag);
    }

    private static string Words(PhotoFault fault, string name, long bytes)
    {
        var shown = name.Length > 60 ? name[..59] + "…" : name;
        return fault switch
        {
            PhotoFault.TooLarge => JournalText.Of("photo-too-large", shown, Figures.Count((bytes + 999_999) / 1_000_000), PhotoReader.LargestFile / 1_000_000),
            PhotoFault.TooManyPixels => JournalText.Of("photo-too-many-pixels", shown, PhotoReader.MostPixels / 1_000_000),
            PhotoFault.Damaged => JournalText.Of("photo-damaged", shown),
            _ => JournalText.Of("photo-none", shown),
        };
    }
}
