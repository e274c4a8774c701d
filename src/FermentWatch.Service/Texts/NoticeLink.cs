using FermentWatch.Monitoring.Batches;

namespace FermentWatch.Service.Texts;

/// <summary>The address of a batch's page as a phone can open it.</summary>
public static class NoticeLink
{
    /// <summary>The link, or null: without a configured address, or while the page listens on loopback only, a phone cannot open any.</summary>
    /// <param name="batch">The batch.</param>
    /// <param name="address">The configured address of the page, its base path included.</param>
    /// <param name="isLoopbackOnly">Whether the page listens on this machine only.</param>
    public static Uri? To(BatchId batch, Uri? address, bool isLoopbackOnly) =>
        Root(address, isLoopbackOnly) is { } root ? new Uri(root, "batch/" + Uri.EscapeDataString(batch.Value)) : null;

    /// <summary>The root of the pages as a phone can open it, ending with a slash; null as for <see cref="To"/>.</summary>
    public static Uri? Root(Uri? address, bool isLoopbackOnly) => address is null || isLoopbackOnly || address.IsLoopback
        ? null
        : new UriBuilder(address) { Query = "", Fragment = "", Path = address.AbsolutePath.TrimEnd('/') + "/" }.Uri;
}
