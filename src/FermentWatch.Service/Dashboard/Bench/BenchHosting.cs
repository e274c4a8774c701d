using FermentWatch.Infrastructure.Storage;
using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Worksheets;
using FermentWatch.Service.Dashboard.Pages;
using FermentWatch.Service.Dashboard.Preferences;
using FermentWatch.Service.Dashboard.Words;
using Microsoft.AspNetCore.Http.HttpResults;

namespace FermentWatch.Service.Dashboard.Bench;

/// <summary>The bench: the list of worksheets and each of them. A worksheet stores nothing, so its form is an address: it can be kept, shared and printed.</summary>
internal static class BenchHosting
{
    /// <summary>Field of the address: key of the batch that the sheet is for.</summary>
    public const string BatchField = "batch";

    /// <summary>Field of the address that says that the form was sent.</summary>
    public const string SentField = "sent";

    public static void MapBench(this WebApplication app)
    {
        app.MapMethods("/bench", ["GET", "HEAD"], (HttpContext context) => Page<BenchPage>(context, new() { ["For"] = BatchOf(context) }));
        app.MapMethods("/bench/sources", ["GET", "HEAD"], (HttpContext context) => Page<SourcesPage>(context, []));
        app.MapMethods("/bench/{name}", ["GET", "HEAD"], Sheet);
    }

    private static IResult Sheet(HttpContext context, string name)
    {
        if (WorksheetCatalog.Find(name) is not { } sheet)
        {
            return Page<NotFoundPage>(context, [], StatusCodes.Status404NotFound);
        }

        var reader = context.RequestServices.GetRequiredService<Reader>();
        var batch = BatchOf(context);
        // Without a store, as in a host of the pages alone, the journal is not at hand.
        var values = batch is null ? [] : BatchValues.Of(batch, context.RequestServices.GetService<Store>()?.ReadBatch(batch.View.Batch.Id)?.Facts, reader);
        var state = SheetState.Of(
            sheet,
            key => context.Request.Query.TryGetValue(key, out var sent) ? sent.ToString() : null,
            values,
            context.Request.Query.ContainsKey(SentField),
            reader,
            Chosen(context.RequestServices.GetRequiredService<PreferenceBook>().Present));
        return Page<WorksheetPage>(context, new() { ["State"] = state, ["For"] = batch });
    }

    private static Dictionary<string, string> Chosen(PreferenceSet set)
    {
        var chosen = new Dictionary<string, string>(StringComparer.Ordinal)
        {
            ["scale-step"] = ((double)set.BenchScale / 1000).ToString(System.Globalization.CultureInfo.InvariantCulture),
        };
        if (set.Law != Law.Strictest)
        {
            chosen["law"] = set.Law.ToString().ToLowerInvariant();
        }

        return chosen;
    }

    private static BoardEntry? BatchOf(HttpContext context) =>
        DashboardHosting.VisitOf(context).Snapshot.Find(context.Request.Query[BatchField].ToString());

    private static RazorComponentResult<TPage> Page<TPage>(HttpContext context, Dictionary<string, object?> parameters, int? status = null)
        where TPage : Microsoft.AspNetCore.Components.IComponent
    {
        parameters["Visit"] = DashboardHosting.VisitOf(context);
        context.Response.Headers.CacheControl = "no-store";
        return new RazorComponentResult<TPage>(parameters) { StatusCode = status, PreventStreamingRendering = true };
    }
}
