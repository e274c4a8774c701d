using FermentWatch.Infrastructure.Storage;

namespace FermentWatch.Service.Access;

/// <summary>What a request needs. Whatever is not named below needs a sign-in to read and a maker to change.</summary>
internal enum Need
{
    /// <summary>Open to everybody.</summary>
    Nothing,

    /// <summary>Anybody signed in.</summary>
    SignIn,

    /// <summary>Anybody signed in, and somebody must have a password.</summary>
    Account,

    /// <summary>A maker.</summary>
    Maker,

    /// <summary>A maker, and somebody must have a password.</summary>
    People,
}

/// <summary>The one place that decides who may do what with the pages.</summary>
internal sealed class AccessGate(RequestDelegate next, AccessBook book)
{
    private static readonly HashSet<string> Open = ["/setup", "/sign-in", "/sign-out", "/invitation/{code}", "/assets/{name}", "/health", Api.ReadingsEndpoint.Route];

    public Task InvokeAsync(HttpContext context)
    {
        var need = NeedOf(context);
        if (need == Need.Nothing)
        {
            return next(context);
        }

        if (!book.IsLocked)
        {
            return need is Need.Account or Need.People ? AccessAnswers.RedirectAsync(context, "setup") : next(context);
        }

        if (context.SignedIn() is not { } signed)
        {
            return AccessAnswers.AskToSignInAsync(context);
        }

        return need is Need.Maker or Need.People && signed.Person.Role != Role.Maker ? AccessAnswers.ForbidAsync(context) : next(context);
    }

    /// <summary>By the route that was matched, not by the address as written: so that no spelling of an address gets around it.</summary>
    internal static Need NeedOf(HttpContext context)
    {
        var route = (context.GetEndpoint() as RouteEndpoint)?.RoutePattern.RawText ?? "";
        if (Open.Contains(route))
        {
            return Need.Nothing;
        }

        if (route == "/account" || route.StartsWith("/account/", StringComparison.Ordinal))
        {
            return Need.Account;
        }

        if (route == "/people" || route.StartsWith("/people/", StringComparison.Ordinal))
        {
            return Need.People;
        }

        // Computes and stores nothing.
        if (route == Api.WorksheetsEndpoint.OneRoute)
        {
            return Need.SignIn;
        }

        var reads = HttpMethods.IsGet(context.Request.Method) || HttpMethods.IsHead(context.Request.Method);
        return reads && route != "/devices" ? Need.SignIn : Need.Maker;
    }
}
