using FermentWatch.Monitoring.Batches;

namespace FermentWatch.Service.Dashboard.Gates;

/// <summary>The way to the restart plan of a batch, with what the worksheet can't know from its readings.</summary>
internal static class RestartLink
{
    /// <summary>The link: what the yeast is said to bear, and whether sorbate is in, which makes every restart fail.</summary>
    public static string Of(Visit visit, BatchView view) => visit.Link(
        "bench/restart-plan?batch=" + Uri.EscapeDataString(view.Batch.Id.Value)
        + (view.Batch.Tolerance is { } tolerance ? "&tolerance=" + Uri.EscapeDataString(visit.Reader.Number(tolerance.Percent, "0.#")) : "")
        + (view.Journal.Any(entry => entry.Number("sorbate") is not null) ? "&sorbate=yes" : ""));
}
