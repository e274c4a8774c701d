namespace FermentWatch.Service.Api;

/// <summary>Reads a body that may be hostile.</summary>
internal static class BoundedBody
{
    /// <returns>The body, or null when it is larger than allowed.</returns>
    public static async Task<byte[]?> ReadAsync(HttpRequest request, int largest, CancellationToken stop)
    {
        if (request.ContentLength > largest)
        {
            return null;
        }

        var body = new byte[largest + 1];
        var length = await request.Body.ReadAtLeastAsync(body, body.Length, throwOnEndOfStream: false, stop);
        return length > largest ? null : body[..length];
    }
}
