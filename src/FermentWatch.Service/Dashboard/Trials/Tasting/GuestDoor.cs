using FermentWatch.Infrastructure.Storage;
using FermentWatch.Service.Access;

namespace FermentWatch.Service.Dashboard.Trials.Tasting;

/// <summary>What a guest code let in.</summary>
/// <param name="Stored">The trial that it opens, and no other.</param>
/// <param name="Taster">Whose place this browser holds; null as long as none is chosen.</param>
internal sealed record GuestPass(StoredTrial Stored, string? Taster);

/// <summary>Lets guests in by the code of one trial: random, of some hours, ended by the maker. Wrong codes count as guesses.</summary>
internal static class GuestDoor
{
    /// <summary>How long a code works: an evening.</summary>
    public static readonly TimeSpan Lifetime = TimeSpan.FromHours(8);

    private const string CookieName = "fermentwatch-tasting";

    private const int Half = 5;

    /// <summary>A code as it is stored and shown: capitals, a hyphen in the middle.</summary>
    public static string Spelled(string typed)
    {
        var letters = new string([.. typed.Where(char.IsAsciiLetterOrDigit).Take(2 * Half).Select(char.ToUpperInvariant)]);
        return letters.Length > Half ? letters[..Half] + "-" + letters[Half..] : letters;
    }

    /// <summary>What the code opens; null when it opens nothing, or too many were tried from there.</summary>
    public static GuestPass? Enter(HttpContext context, string code)
    {
        var services = context.RequestServices;
        var limit = services.GetRequiredService<GuessLimit>();
        var address = context.Connection.RemoteIpAddress;
        if (limit.IsExhausted(address))
        {
            return null;
        }

        var store = services.GetRequiredService<Store>();
        if (store.FindTasting(Secrets.Hash(Spelled(code))) is not { } id || store.ReadTrial(id) is not { } stored)
        {
            limit.Admits(address);
            return null;
        }

        // A place taken at another trial means nothing here.
        var seat = context.Request.Cookies[CookieName] is { Length: > 0 and < 100 } key ? store.FindSeat(Secrets.Hash(key)) : null;
        return new GuestPass(stored, seat?.Trial == id && stored.Trial.Request.Tasters.Contains(seat.Taster) ? seat.Taster : null);
    }

    /// <summary>Takes a place for this browser. False when somebody else has it.</summary>
    public static async Task<bool> SitAsync(HttpContext context, GuestPass pass, string taster, CancellationToken cancellation)
    {
        var key = Secrets.NewKey();
        if (!pass.Stored.Trial.Request.Tasters.Contains(taster)
            || !await context.RequestServices.GetRequiredService<Store>().TakeSeatAsync(new TastingSeat(pass.Stored.Id, taster), Secrets.Hash(key), cancellation))
        {
            return false;
        }

        context.RequestServices.GetRequiredService<Board>().Renew(Board.TopicOfTrial(pass.Stored.Id));
        context.Response.Cookies.Append(CookieName, key, new CookieOptions
        {
            HttpOnly = true,
            SameSite = SameSiteMode.Lax,
            Secure = context.Request.IsHttps,
            Path = context.Request.PathBase + "/tasting",
            MaxAge = Lifetime + TimeSpan.FromHours(4),
        });
        return true;
    }
}
