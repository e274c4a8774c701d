using FermentWatch.Service.Dashboard.Words;
using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Http.Features;
using Microsoft.AspNetCore.Http.HttpResults;

namespace FermentWatch.Service.Dashboard.Forms;

/// <summary>A form that was sent: its fields, and what a page would stand on.</summary>
/// <param name="Visit">As for a page at the same address.</param>
/// <param name="Fields">What was typed, by name.</param>
/// <param name="Context">The request.</param>
public sealed record SentForm(Visit Visit, IFormCollection Fields, HttpContext Context)
{
    /// <summary>A field as typed, without white space around it; empty when it was not sent.</summary>
    public string this[string name] => Fields[name].ToString().Trim();

    /// <summary>A service of the host.</summary>
    public T Service<T>()
        where T : notnull => Context.RequestServices.GetRequiredService<T>();
}

/// <summary>Forms of the pages: sent by POST with a token of our own, answered by a redirect, or by the page again with what is wrong.</summary>
public static class FormHosting
{
    /// <summary>Name of the hidden field that holds the token.</summary>
    public const string TokenField = "token";

    /// <summary>Takes a form at an address.</summary>
    /// <param name="app">The host.</param>
    /// <param name="route">Route of the form's address.</param>
    /// <param name="handle">Does what the form asks and gives the answer: see <see cref="Back"/> and <see cref="Again{TPage}"/>.</param>
    /// <param name="largest">Most bytes of the request; null for what the server takes by itself.</param>
    public static void MapForm(this WebApplication app, string route, Func<SentForm, CancellationToken, Task<IResult>> handle, long? largest = null)
    {
        ArgumentNullException.ThrowIfNull(app);
        app.MapPost(route, async (HttpContext context, IAntiforgery antiforgery) =>
        {
            if (largest is not null && context.Features.Get<IHttpMaxRequestBodySizeFeature>() is { IsReadOnly: false } limit)
            {
                limit.MaxRequestBodySize = largest;
            }

            try
            {
                if (context.Request.HasFormContentType)
                {
                    await context.Request.ReadFormAsync(context.RequestAborted);
                }
            }
            catch (Exception fault) when (fault is InvalidDataException or BadHttpRequestException { StatusCode: StatusCodes.Status413PayloadTooLarge })
            {
                return Results.Text(PageText.Of("form-too-large"), statusCode: StatusCodes.Status413PayloadTooLarge);
            }

            if (!context.Request.HasFormContentType || !await antiforgery.IsRequestValidAsync(context))
            {
                // The page was open for too long, or the form is not ours: nothing was changed, and the reader may try again.
                return Results.BadRequest(PageText.Of("form-stale"));
            }

            var form = await context.Request.ReadFormAsync(context.RequestAborted);
            return await handle(new SentForm(DashboardHosting.VisitOf(context), form, context), context.RequestAborted);
        }).DisableAntiforgery();
    }

    /// <summary>The answer to a form that was done: to a page of ours, by GET.</summary>
    /// <param name="form">The form.</param>
    /// <param name="path">Path from the root of the pages, such as <c>batch/plum</c>.</param>
    public static IResult Back(SentForm form, string path)
    {
        ArgumentNullException.ThrowIfNull(form);
        return Results.LocalRedirect("~/" + path);
    }

    /// <summary>The answer to a form with a fault: the page again, with what was typed (422).</summary>
    public static RazorComponentResult<TPage> Again<TPage>(SentForm form, Dictionary<string, object?> parameters)
        where TPage : IComponent
    {
        ArgumentNullException.ThrowIfNull(form);
        parameters["Visit"] = form.Visit;
        form.Context.Response.Headers.CacheControl = "no-store";
        return new RazorComponentResult<TPage>(parameters) { StatusCode = StatusCodes.Status422UnprocessableEntity, PreventStreamingRendering = true };
    }
}
