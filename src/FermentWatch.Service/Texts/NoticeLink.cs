using FermentWatch.Monitoring.Batches;

namespace FermentWatch.Service.Texts;

/// <summary>The address of a batch's page as a phone can open it.</summary>
public static class NoticeLink
{
    /// <summary>The link, or null: without a configured address, or while the page listens on loopback only, a phone cannot open any.</summary>
    /// <param name="batch">The batch; empty for the service itself, whose page is the first one.</param>
    /// <param name="address">The configured address of the page, its base path included.</param>
    /// <param name="isLoopbackOnly">Whether the page listens on this machine only.</param>
    public static Uri? To(BatchId batch, Uri? address, bool isLoopbackOnly) =>
        To(batch.Value.Length == 0 ? "" : "batch/" + Uri.EscapeDataString(batch.Value), address, isLoopbackOnly);

    /// <summary>The link to the list of alerts, for a notice about several batches; null as for a batch.</summary>
    /// <param name="address">The configured address of the page, its base path included.</param>
    /// <param name="isLoopbackOnly">Whether the page listens on this machine only.</param>
    public static Uri? ToAlerts(Uri? address, bool isLoopbackOnly) => To("alerts", address, isLoopbackOnly);

    /// <summary>The root of the pages as a phone can open it, ending with a slash; null as for a batch.</summary>
    public static Uri? Root(Uri? address, bool isLoopbackOnly) => address is null || isLoopbackOnly || address.IsLoopback
        ? null
        : new UriBuilder(address) { Query = "", Fragment = "", Path = address.AbsolutePath.TrimEnd('/') + "/" }.Uri;

    private static Uri? To(string path, Uri? address, bool isLoopbackOnly) =>
        Root(address, isLoopbackOnly) is { } root ? new Uri(root, path) : null;
}
