using FermentWatch.Infrastructure.Storage;
using FermentWatch.Service.Access.Pages;
using FermentWatch.Service.Dashboard.Forms;
using Microsoft.AspNetCore.Authentication.Cookies;
using Microsoft.AspNetCore.Components;

namespace FermentWatch.Service.Access;

/// <summary>Adds sign-in and its pages to a host.</summary>
internal static class AccessHosting
{
    /// <param name="services">The host's services.</param>
    /// <param name="clock">By which the set-up code ages: never a demo's.</param>
    public static void AddAccess(this IServiceCollection services, TimeProvider clock)
    {
        services.AddSingleton<AccessBook>();
        services.AddSingleton<SignIns>();
        services.AddSingleton<GuessLimit>();
        services.AddSingleton(new SetUpCode(clock));
        services.AddSingleton<Api.ReadingsLimit>();
        services.AddAuthentication(CookieAuthenticationDefaults.AuthenticationScheme).AddCookie(cookie =>
        {
            cookie.Cookie.Name = "fermentwatch-sign-in";
            cookie.Cookie.HttpOnly = true;
            // Lax, so that a link in a notice opens the page without signing in anew.
            cookie.Cookie.SameSite = SameSiteMode.Lax;
            cookie.Cookie.SecurePolicy = CookieSecurePolicy.SameAsRequest;
            cookie.ExpireTimeSpan = Store.LongestIdle;
            cookie.SlidingExpiration = true;
            cookie.Events.OnValidatePrincipal = context => context.HttpContext.RequestServices.GetRequiredService<SignIns>().ValidateAsync(context);
        });
    }

    /// <summary>Goes between routing and the pages.</summary>
    public static void UseAccess(this WebApplication app)
    {
        app.UseAuthentication();
        app.UseMiddleware<AccessGate>();
    }

    public static void MapAccess(this WebApplication app)
    {
        app.MapMethods("/setup", ["GET", "HEAD"], (HttpContext context, AccessBook book) =>
            book.IsLocked ? AccessAnswers.RedirectAsync(context, "sign-in") : ShowAsync<SetUpPage>(context));
        app.MapForm("/setup", SignInForms.SetUpAsync);
        app.MapMethods("/sign-in", ["GET", "HEAD"], (HttpContext context, AccessBook book) =>
            book.IsLocked ? ShowAsync<SignInPage>(context, context.Request.Query["return"].ToString()) : AccessAnswers.RedirectAsync(context, "setup"));
        app.MapForm("/sign-in", SignInForms.SignInAsync);
        app.MapForm("/sign-out", SignInForms.SignOutAsync);
        app.MapMethods("/invitation/{code}", ["GET", "HEAD"], (HttpContext context, string code, Store store, GuessLimit limit) => AccessAnswers.Page<InvitationPage>(
            context,
            StatusCodes.Status200OK,
            new()
            {
                ["View"] = AccessForms.ViewOf(context) with { Person = limit.Admits(context.Connection.RemoteIpAddress) ? store.FindInvited(Secrets.Hash(code)) : null },
            }));
        app.MapForm("/invitation/{code}", SignInForms.AcceptAsync);
        app.MapMethods("/account", ["GET", "HEAD"], (HttpContext context) => ShowAsync<AccountPage>(context, context.Request.Query["done"].ToString()));
        app.MapForm("/account", SignInForms.AccountAsync);
        app.MapMethods("/people", ["GET", "HEAD"], (HttpContext context) => ShowAsync<PeoplePage>(context));
        app.MapForm("/people", PeopleForms.ChangeAsync);
        app.MapMethods("/devices", ["GET", "HEAD"], (HttpContext context) => ShowAsync<DevicesPage>(context));
        app.MapForm("/devices", DeviceForms.ChangeAsync);
        app.MapMethods("/health", ["GET", "HEAD"], (Store store) =>
            store.Health.Writable ? Results.Text("ok") : Results.Text("storage not available", statusCode: StatusCodes.Status503ServiceUnavailable));
        Api.ReadingsEndpoint.Map(app);
        Api.WorksheetsEndpoint.Map(app);
    }

    private static Task ShowAsync<TPage>(HttpContext context, string note = "")
        where TPage : IComponent =>
        AccessAnswers.Page<TPage>(context, StatusCodes.Status200OK, new() { ["View"] = AccessForms.ViewOf(context) with { Note = note } });
}
