using FermentWatch.Infrastructure.Storage;
using FermentWatch.Oenology.Tasting;
using FermentWatch.Service.Dashboard.Forms;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Http.HttpResults;

namespace FermentWatch.Service.Dashboard.Trials.Tasting;

/// <summary>The pages that a guest code opens: a name, the glasses, an order. Nothing else of the service.</summary>
internal static class GuestHosting
{
    /// <summary>Where guests come in.</summary>
    public const string Root = "/tasting";

    // Words about a glass and its answers are a few hundred bytes.
    private const long LargestForm = 32 * 1024;

    /// <summary>Every address of guests, for the gate.</summary>
    public static IReadOnlyList<string> Routes { get; } = [Root, Root + "/{code}", Root + "/{code}/glass/{glass}", Root + "/{code}/order", Root + "/{code}/done"];

    public static void MapGuests(this WebApplication app)
    {
        app.MapMethods(Routes[0], ["GET", "HEAD"], (HttpContext context) => TrialHosting.Page<GuestCodePage>(context, []));
        app.MapForm(Routes[0], Come, LargestForm);
        Get(app, Routes[1], (context, pass, tasting) => pass.Taster is null ? Page<GuestNamePage>(context, tasting) : Next(tasting));
        app.MapForm(Routes[1], SitAsync, LargestForm);
        Get(app, Routes[2], (context, pass, tasting) => context.Request.RouteValues["glass"]?.ToString() is { } glass && tasting.Codes.Contains(glass)
            ? Page<GuestGlassPage>(context, tasting, glass)
            : Next(tasting));
        app.MapForm(Routes[2], AnswerAsync, LargestForm);
        Get(app, Routes[3], (context, pass, tasting) => pass.Taster is null ? Next(tasting) : Page<GuestOrderPage>(context, tasting));
        app.MapForm(Routes[3], OrderAsync, LargestForm);
        Get(app, Routes[4], (context, pass, tasting) => pass.Taster is null ? Next(tasting) : Page<GuestDonePage>(context, tasting));
    }

    private static Task<IResult> Come(SentForm form, CancellationToken cancellation) => Task.FromResult<IResult>(
        GuestDoor.Enter(form.Context, form["code"]) is not null
            ? FormHosting.Back(form, "tasting/" + GuestDoor.Spelled(form["code"]))
            : FormHosting.Again<GuestCodePage>(form, new() { ["IsWrong"] = true, ["Typed"] = GuestDoor.Spelled(form["code"]) }));

    private static async Task<IResult> SitAsync(SentForm form, CancellationToken cancellation)
    {
        if (PassOf(form.Context) is not { Stored.State: TrialState.Tasting } pass)
        {
            return Closed(form.Context);
        }

        var code = CodeOf(form.Context);
        return pass.Taster is not null || await GuestDoor.SitAsync(form.Context, pass, form["taster"], cancellation)
            ? FormHosting.Back(form, "tasting/" + GuestDoor.Spelled(code))
            : FormHosting.Again<GuestNamePage>(form, new() { ["Tasting"] = GuestTasting.Of(form.Context, pass, code), ["IsTaken"] = true });
    }

    private static async Task<IResult> AnswerAsync(SentForm form, CancellationToken cancellation)
    {
        var glass = form.Context.Request.RouteValues["glass"]?.ToString() ?? "";
        if (PassOf(form.Context) is not { Stored.State: TrialState.Tasting } pass || (pass.Taster is not null && pass.Stored.Trial.Current.Find(glass) is null))
        {
            return Closed(form.Context);
        }

        var tasting = GuestTasting.Of(form.Context, pass, CodeOf(form.Context));
        if (pass.Taster is not { } taster)
        {
            return Next(tasting);
        }

        if (ScoreFields.Read(taster, glass, name => form[name]) is not { } score)
        {
            return FormHosting.Again<GuestGlassPage>(form, new() { ["Tasting"] = tasting, ["Glass"] = glass, ["IsEmpty"] = true });
        }

        // The tasting may have been closed while this was written.
        await form.Service<Store>().ChangeTrialAsync(
            pass.Stored.Id, was => was.State is TrialState.Tasting && was.Trial.Current.Find(glass) is not null ? was with { Trial = was.Trial.WithScore(score) } : was, cancellation);
        form.Service<Board>().Renew(Board.TopicOfTrial(pass.Stored.Id));
        return Next(tasting with { Scores = new Dictionary<string, GlassScore>(tasting.Scores, StringComparer.Ordinal) { [glass] = score } });
    }

    private static async Task<IResult> OrderAsync(SentForm form, CancellationToken cancellation)
    {
        if (PassOf(form.Context) is not { Stored.State: TrialState.Tasting } pass)
        {
            return Closed(form.Context);
        }

        var tasting = GuestTasting.Of(form.Context, pass, CodeOf(form.Context));
        var order = RankForm.Read(form);
        if (pass.Taster is not { } taster || !order.Order(StringComparer.Ordinal).SequenceEqual(tasting.Codes.Order(StringComparer.Ordinal)))
        {
            return Next(tasting);
        }

        await form.Service<Store>().ChangeTrialAsync(
            pass.Stored.Id,
            was => was.State is TrialState.Tasting && was.Trial.Current.Number == pass.Stored.Trial.Current.Number ? was with { Trial = was.Trial.WithRanking(new GlassRanking(taster, order)) } : was,
            cancellation);
        form.Service<Board>().Renew(Board.TopicOfTrial(pass.Stored.Id));
        return FormHosting.Back(form, $"tasting/{tasting.Code}/{(form["move"].Length > 0 ? "order" : "done")}");
    }

    private static IResult Next(GuestTasting tasting) => Results.LocalRedirect("~/tasting/" + tasting.Code + (
        tasting.Taster.Length == 0 ? "" : tasting.Next is { } glass ? "/glass/" + glass : tasting.Order is null ? "/order" : "/done"));

    private static RazorComponentResult<GuestCodePage> Closed(HttpContext context) => TrialHosting.Page<GuestCodePage>(context, new() { ["IsOver"] = true }, StatusCodes.Status404NotFound);

    private static string CodeOf(HttpContext context) => context.Request.RouteValues["code"]?.ToString() ?? "";

    private static GuestPass? PassOf(HttpContext context) => GuestDoor.Enter(context, CodeOf(context));

    private static void Get(WebApplication app, string route, Func<HttpContext, GuestPass, GuestTasting, IResult> show) => app.MapMethods(route, ["GET", "HEAD"], (HttpContext context) =>
    {
        context.Response.Headers.CacheControl = "no-store";
        return PassOf(context) is { Stored.State: TrialState.Tasting } pass ? show(context, pass, GuestTasting.Of(context, pass, CodeOf(context))) : Closed(context);
    });

    private static RazorComponentResult<TPage> Page<TPage>(HttpContext context, GuestTasting tasting, string? glass = null)
        where TPage : IComponent
    {
        var parameters = new Dictionary<string, object?> { ["Tasting"] = tasting };
        if (glass is not null)
        {
            parameters["Glass"] = glass;
        }

        return TrialHosting.Page<TPage>(context, parameters);
    }
}
