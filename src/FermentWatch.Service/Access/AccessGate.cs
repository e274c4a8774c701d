using FermentWatch.Infrastructure.Storage;
using FermentWatch.Service.Configuration;

namespace FermentWatch.Service.Access;

/// <summary>What a request needs. Whatever is not named below needs a sign-in to read and a maker to change.</summary>
internal enum Need
{
    /// <summary>Open to everybody.</summary>
    Nothing,

    /// <summary>Open to everybody; at this machine alone as long as nobody has a password.</summary>
    Door,

    /// <summary>Anybody signed in.</summary>
    SignIn,

    /// <summary>Anybody signed in, and somebody must have a password.</summary>
    Account,

    /// <summary>A taster, for entries that <see cref="TastingRule"/> allows.</summary>
    Taster,

    /// <summary>A maker.</summary>
    Maker,

    /// <summary>A maker, and somebody must have a password.</summary>
    People,
}

/// <summary>The one place that decides who may do what with the pages.</summary>
internal sealed partial class AccessGate(RequestDelegate next, AccessBook book, PageSettings page, ILogger<AccessGate> log)
{
    private static readonly HashSet<string> Open =
        ["/assets/{name}", "/" + Personal.PushWorker.Path, "/health", Care.CareHosting.Alive, Care.CareHosting.Ready, Care.CareHosting.Metrics, Api.ReadingsEndpoint.Route];

    private static readonly HashSet<string> Doors = ["/setup", "/sign-in", "/sign-out", "/invitation/{code}", Dashboard.Acts.ActHosting.LinkRoute, Calendar.CalendarHosting.Route, .. Dashboard.Trials.Tasting.GuestHosting.Routes];

    // What is sent there computes something and changes nothing.
    private static readonly HashSet<string> Asking = [Api.WorksheetsEndpoint.OneRoute];

    private static readonly HashSet<string> Tasting =
        ["/batch/{id}/journal/new", "/batch/{id}/journal/{entry:long}/correct", "/batch/{id}/journal/{entry:long}/undo"];

    private int _hasWarned;

    public Task InvokeAsync(HttpContext context)
    {
        if (Proxies.IsUnbelieved(context) && Interlocked.Exchange(ref _hasWarned, 1) == 0)
        {
            TellUnbelieved(context.Connection.RemoteIpAddress?.ToString() ?? "an unknown address", string.Join(", ", page.TrustedProxies));
        }

        var need = NeedOf(context);
        if (need == Need.Nothing)
        {
            return next(context);
        }

        if (!book.IsLocked)
        {
            return !Proxies.IsFromThisMachine(context) ? AccessAnswers.NotYetAsync(context)
                : need is Need.Account or Need.People ? AccessAnswers.RedirectAsync(context, "setup")
                : next(context);
        }

        if (need == Need.Door)
        {
            return next(context);
        }

        if (context.SignedIn() is not { } signed)
        {
            return AccessAnswers.AskToSignInAsync(context);
        }

        return signed.Person.Role >= RoleFor(need) ? next(context) : AccessAnswers.ForbidAsync(context);
    }

    /// <summary>By the route that was matched, not by the address as written: so that no spelling of an address gets around it.</summary>
    internal static Need NeedOf(HttpContext context)
    {
        var route = (context.GetEndpoint() as RouteEndpoint)?.RoutePattern.RawText ?? "";
        if (Open.Contains(route))
        {
            return Need.Nothing;
        }

        if (Doors.Contains(route))
        {
            return Need.Door;
        }

        if (route == "/account" || route.StartsWith("/account/", StringComparison.Ordinal))
        {
            return Need.Account;
        }

        if (route == "/people" || route.StartsWith("/people/", StringComparison.Ordinal))
        {
            return Need.People;
        }

        // What is in the glasses is not for those who taste them.
        if (route == "/trials" || route.StartsWith("/trials/", StringComparison.Ordinal))
        {
            return Need.Maker;
        }

        if (Tasting.Contains(route))
        {
            return Need.Taster;
        }

        var reads = HttpMethods.IsGet(context.Request.Method) || HttpMethods.IsHead(context.Request.Method) || Asking.Contains(route);
        return reads && route != "/devices" ? Need.SignIn : Need.Maker;
    }

    private static Role RoleFor(Need need) => need switch
    {
        Need.Maker or Need.People => Role.Maker,
        Need.Taster => Role.Taster,
        _ => Role.Viewer,
    };

    [LoggerMessage(LogLevel.Warning, "Requests from {Address} carry X-Forwarded-For, and Page:TrustedProxies ({Trusted}) does not name it: all its visitors count as one. Name it there if it is your proxy.")]
    private partial void TellUnbelieved(string address, string trusted);
}
