using FermentWatch.Service.Access.Pages;
using FermentWatch.Service.Dashboard;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Http.HttpResults;

namespace FermentWatch.Service.Access;

/// <summary>Answers to those who may not.</summary>
internal static class AccessAnswers
{
    /// <summary>To the page for signing in, which leads back; a request that is not for a page is refused.</summary>
    public static Task AskToSignInAsync(HttpContext context)
    {
        context.Response.Headers.CacheControl = "no-store";
        if (context.Request.Path.StartsWithSegments("/api", StringComparison.Ordinal))
        {
            return Api.ApiProblem.Of(StatusCodes.Status401Unauthorized, "Not signed in", "Sign in on the page first.").ExecuteAsync(context);
        }

        if (!HttpMethods.IsGet(context.Request.Method) && !HttpMethods.IsHead(context.Request.Method))
        {
            return Page<ForbiddenPage>(context, StatusCodes.Status401Unauthorized, new() { ["Key"] = "signed-out" });
        }

        // A picture or the feed of events is asked for by a page, not by a reader.
        if (context.Request.Headers["Sec-Fetch-Dest"].ToString() is { Length: > 0 } wanted and not "document")
        {
            context.Response.StatusCode = StatusCodes.Status401Unauthorized;
            return Task.CompletedTask;
        }

        return RedirectAsync(context, "sign-in?return=" + Uri.EscapeDataString(context.Request.Path + context.Request.QueryString));
    }

    public static Task ForbidAsync(HttpContext context) => Page<ForbiddenPage>(context, StatusCodes.Status403Forbidden, new() { ["Key"] = "forbidden" });

    /// <summary>The same as an answer of a form.</summary>
    public static IResult Forbidden(HttpContext context)
    {
        context.Response.Headers.CacheControl = "no-store";
        return new RazorComponentResult<ForbiddenPage>(new Dictionary<string, object?> { ["Visit"] = DashboardHosting.VisitOf(context), ["Key"] = "forbidden" })
        {
            StatusCode = StatusCodes.Status403Forbidden,
            PreventStreamingRendering = true,
        };
    }

    /// <summary>Nobody has a password yet, and this does not come from the machine itself.</summary>
    public static Task NotYetAsync(HttpContext context) => Page<ForbiddenPage>(context, StatusCodes.Status403Forbidden, new() { ["Key"] = "closed" });

    public static Task RedirectAsync(HttpContext context, string path)
    {
        context.Response.Headers.CacheControl = "no-store";
        return Results.LocalRedirect("~/" + path).ExecuteAsync(context);
    }

    public static Task Page<TPage>(HttpContext context, int status, Dictionary<string, object?> parameters)
        where TPage : IComponent
    {
        parameters["Visit"] = DashboardHosting.VisitOf(context);
        context.Response.Headers.CacheControl = "no-store";
        return new RazorComponentResult<TPage>(parameters) { StatusCode = status, PreventStreamingRendering = true }.ExecuteAsync(context);
    }

    /// <summary>Where to go after signing in: a page of ours, whatever the address says.</summary>
    public static string LocalReturn(string asked) =>
        asked.Length is > 1 and < 2000 && asked[0] == '/' && asked[1] is not ('/' or '\\') && !asked.Any(char.IsControl) ? asked[1..] : "";
}
