using FermentWatch.Infrastructure.Storage;
using FermentWatch.Service.Dashboard.Forms;
using FermentWatch.Service.Dashboard.Pages;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Http.HttpResults;

namespace FermentWatch.Service.Dashboard.Journal;

/// <summary>Puts the forms of batches and their journals under the pages.</summary>
internal static class JournalHosting
{
    public static void MapJournal(this WebApplication app)
    {
        app.MapGet("/start", BatchForms.ShowStart);
        app.MapForm("/start", BatchForms.StartAsync);
        app.MapGet("/batch/{id}/edit", BatchForms.ShowEdit);
        app.MapForm("/batch/{id}/edit", BatchForms.EditAsync);
        app.MapGet("/batch/{id}/limits", LimitForms.Show);
        app.MapForm("/batch/{id}/limits", LimitForms.KeepAsync);
        app.MapForm("/batch/{id}/archive", BatchForms.ArchiveAsync);
        app.MapGet("/archive", (HttpContext context) => Page<ArchivePage>(
            context,
            new()
            {
                ["Visit"] = DashboardHosting.VisitOf(context),
                ["Batches"] = context.RequestServices.GetService<Store>()?.ReadArchivedBatches() ?? [],
            }));
        app.MapForm("/archive/{id}/restore", BatchForms.RestoreAsync);
        app.MapForm("/batch/{id}/journal", EntryForms.TapAsync);
        app.MapGet("/batch/{id}/journal/new", (HttpContext context, string id, string? kind) => EntryForms.ShowNew(context, id, kind));
        app.MapForm("/batch/{id}/journal/new", EntryForms.NewAsync, PhotoForms.LargestRequest);
        app.MapGet("/batch/{id}/journal/{entry:long}/correct", EntryForms.ShowCorrect);
        app.MapForm("/batch/{id}/journal/{entry:long}/correct", EntryForms.CorrectAsync, PhotoForms.LargestRequest);
        app.MapForm("/batch/{id}/journal/{entry:long}/undo", EntryForms.UndoAsync);
        app.MapGet("/batch/{id}/photo/{photo:long}", (HttpContext context, string id, long photo) => PhotoForms.Show(context, id, photo, isSmall: false));
        app.MapGet("/batch/{id}/photo/{photo:long}/small", (HttpContext context, string id, long photo) => PhotoForms.Show(context, id, photo, isSmall: true));
    }

    /// <summary>A page of ours that is made anew at every request.</summary>
    public static IResult Page<TPage>(HttpContext context, Dictionary<string, object?> parameters)
        where TPage : IComponent
    {
        context.Response.Headers.CacheControl = "no-store";
        return new RazorComponentResult<TPage>(parameters) { PreventStreamingRendering = true };
    }

    public static IResult NotFound(HttpContext context, Visit visit)
    {
        context.Response.Headers.CacheControl = "no-store";
        return new RazorComponentResult<NotFoundPage>(new Dictionary<string, object?> { ["Visit"] = visit })
        {
            StatusCode = StatusCodes.Status404NotFound,
            PreventStreamingRendering = true,
        };
    }
}
