using System.Globalization;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Dashboard.Forms;
using FermentWatch.Service.Dashboard.Preferences;
using FermentWatch.Service.Dashboard.Words;
using FermentWatch.Service.InOut;
using FermentWatch.Service.Pipeline;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Http.HttpResults;

namespace FermentWatch.Service.Dashboard.InOut;

/// <summary>The pages of import, export, channels and work on a vessel.</summary>
internal static class InOutPages
{
    private const int NewestNotices = 200;

    /// <summary>Puts them under the root of the pages.</summary>
    public static void MapInOut(this WebApplication app)
    {
        ImportEndpoints.Map(app);
        MapExports(app);
        app.MapMethods("/channels", ["GET", "HEAD"], context => Page<ChannelsPage>(context, new()
        {
            ["Tests"] = context.RequestServices.GetRequiredService<ChannelTests>(),
            ["Outbox"] = context.RequestServices.GetRequiredService<Store>().ReadOutbox(NewestNotices),
        }).ExecuteAsync(context));
        app.MapForm("/channels", async (form, cancellationToken) =>
            await (form["do"] == "confirm" ? form.Service<ChannelTests>().ConfirmAsync(form["channel"], cancellationToken) : form.Service<ChannelTests>().SendAsync(form["channel"], cancellationToken)) ? FormHosting.Back(form, "channels") : Results.NotFound());
        app.MapMethods("/channels/gallery", ["GET", "HEAD"], context => Page<GalleryPage>(context, []).ExecuteAsync(context));
        app.MapMethods("/batch/{id}/label", ["GET", "HEAD"], IResult (string id, HttpContext context) => Entry(context, id) is { } entry
            ? Page<LabelPage>(context, new() { ["Entry"] = entry, ["Address"] = WorkAddress(context.RequestServices.GetRequiredService<PreferenceBook>().Present.BaseUrl, id) })
            : Missing(context));
        app.MapMethods("/work/{id}", ["GET", "HEAD"], IResult (string id, HttpContext context) =>
            Entry(context, id) is { } entry ? Page<WorkPage>(context, new() { ["Entry"] = entry }) : Missing(context));
        app.MapForm("/work/{id}", StartAsync);
        app.MapForm("/work/{id}/done", EndAsync);
    }

    /// <summary>A page of ours.</summary>
    internal static RazorComponentResult<TPage> Page<TPage>(HttpContext context, Dictionary<string, object?> parameters, int? status = null)
        where TPage : IComponent
    {
        parameters["Visit"] = DashboardHosting.VisitOf(context);
        context.Response.Headers.CacheControl = "no-store";
        return new RazorComponentResult<TPage>(parameters) { StatusCode = status, PreventStreamingRendering = true };
    }

    /// <summary>The address that the code on a vessel opens, or null while none is configured under which a phone reaches the pages.</summary>
    internal static Uri? WorkAddress(Uri? baseUrl, string batch) => baseUrl is { } address
        ? new Uri(new UriBuilder(address) { Query = "", Fragment = "", Path = address.AbsolutePath.TrimEnd('/') + "/" }.Uri, "work/" + Uri.EscapeDataString(batch))
        : null;

    private static BoardEntry? Entry(HttpContext context, string? id) => context.RequestServices.GetRequiredService<Board>().State.Snapshot.Find(id ?? "");

    private static RazorComponentResult<Pages.NotFoundPage> Missing(HttpContext context) => Page<Pages.NotFoundPage>(context, [], StatusCodes.Status404NotFound);

    private static void MapExports(WebApplication app)
    {
        app.MapMethods("/batch/{id}/readings.csv", ["GET", "HEAD"], IResult (string id, HttpContext context) => Entry(context, id) is { } entry
            ? Export(context, id + "-readings.csv", "text/csv; charset=utf-8", (export, stream) => export.Readings(entry.View, stream))
            : Missing(context));
        app.MapMethods("/batch/{id}/readings.parquet", ["GET", "HEAD"], async Task<IResult> (string id, HttpContext context) =>
        {
            if (Entry(context, id) is not { } entry)
            {
                return Missing(context);
            }

            var services = context.RequestServices;
            context.Response.Headers.CacheControl = "no-store";
            return await ExportFile.SendAsync(services.GetRequiredService<ExportFolder>().Path, id + "-readings.parquet", "application/vnd.apache.parquet", stream =>
                ParquetReadings.WriteAsync(services.GetRequiredService<Store>(), entry.View.Batch, stream, context.RequestAborted));
        });
        app.MapMethods("/batch/{id}/replay.zip", ["GET", "HEAD"], IResult (string id, HttpContext context) => Entry(context, id) is { } entry
            ? Export(context, id + "-replay.zip", "application/zip", (export, stream) => export.Replay(entry.View.Batch, Now(context), stream))
            : Missing(context));
        app.MapMethods("/export.zip", ["GET", "HEAD"], context =>
        {
            var services = context.RequestServices;
            return Export(context, "fermentwatch.zip", "application/zip", (export, stream) =>
                FullExport.Write(services.GetRequiredService<Store>(), export, services.GetRequiredService<ValueList<TopicMapping>>(), stream)).ExecuteAsync(context);
        });
    }

    private static IResult Export(HttpContext context, string name, string type, Action<BatchExport, Stream> write)
    {
        var services = context.RequestServices;
        var reader = services.GetRequiredService<Reader>();
        var export = new BatchExport(services.GetRequiredService<Store>(), reason => ReasonWords.Of(reason, reader).Replace(Figures.NoBreak, ' '), InOutText.Of("export-corrected"));
        context.Response.Headers.CacheControl = "no-store";
        return ExportFile.Send(services.GetRequiredService<ExportFolder>().Path, name, type, stream => write(export, stream));
    }

    private static async Task<IResult> StartAsync(SentForm form, CancellationToken cancellationToken)
    {
        var id = form.Context.Request.RouteValues["id"]?.ToString();
        if (Entry(form.Context, id) is not { } entry)
        {
            return Missing(form.Context);
        }

        if (!int.TryParse(form["hours"], NumberStyles.None, CultureInfo.InvariantCulture, out var hours) || !WorkPage.Hours.Contains(hours))
        {
            return FormHosting.Again<WorkPage>(form, new() { ["Entry"] = entry, ["Fault"] = InOutText.Of("work-fault") });
        }

        var batches = form.Fields["also"].OfType<string>().Prepend(id!).Select(key => new BatchId(key)).ToList();
        var now = Now(form.Context);
        var started = await form.Service<Store>().StartWorkAsync(batches, now, now + TimeSpan.FromHours(hours), cancellationToken);
        form.Service<PipelineSignals>().Touch(started);
        return await SeenAsync(form, id!, isWorking: true, cancellationToken);
    }

    private static async Task<IResult> EndAsync(SentForm form, CancellationToken cancellationToken)
    {
        var id = form.Context.Request.RouteValues["id"]?.ToString();
        if (Entry(form.Context, id) is not { } entry)
        {
            return Missing(form.Context);
        }

        await form.Service<Store>().EndWorkAsync(entry.View.Batch.Id, Now(form.Context), cancellationToken);
        form.Service<PipelineSignals>().Touch([entry.View.Batch.Id]);
        return await SeenAsync(form, id!, isWorking: false, cancellationToken);
    }

    /// <summary>Back to the batch once the board says so, so that the page that follows shows what was done; it is not waited for long.</summary>
    private static async Task<IResult> SeenAsync(SentForm form, string id, bool isWorking, CancellationToken cancellationToken)
    {
        for (var i = 0; i < 50 && Entry(form.Context, id)?.View.IsWorking != isWorking; i++)
        {
            await Task.Delay(100, cancellationToken);
        }

        return FormHosting.Back(form, "batch/" + Uri.EscapeDataString(id));
    }

    private static EventTime Now(HttpContext context) => EventTime.From(context.RequestServices.GetRequiredService<TimeProvider>().GetUtcNow());
}
