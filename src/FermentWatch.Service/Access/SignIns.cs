using System.Security.Claims;
using FermentWatch.Infrastructure.Storage;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authentication.Cookies;
using Microsoft.AspNetCore.Identity;
using Microsoft.Net.Http.Headers;

namespace FermentWatch.Service.Access;

/// <summary>Passwords, and the sign-ins that stand behind the cookies.</summary>
/// <param name="store">Where people and sign-ins are kept.</param>
/// <param name="book">Renewed after a change.</param>
/// <param name="limit">Slows down guessing.</param>
/// <param name="clock">The clock of the store.</param>
internal sealed class SignIns(Store store, AccessBook book, GuessLimit limit, TimeProvider clock)
{
    private const string KeyClaim = "sign-in";

    private static readonly TimeSpan TouchInterval = TimeSpan.FromHours(1);
    private static readonly PasswordHasher<string> Hasher = new();

    // Checked when there is no such person, so that the time of the answer does not tell who exists.
    private static readonly string NobodysHash = Hasher.HashPassword("", Secrets.NewKey());

    public static string HashOf(string password) => Hasher.HashPassword("", password);

    /// <summary>Signs in with a name and a password. Null, or the key of a sentence that says why not.</summary>
    public async Task<string?> TryAsync(HttpContext context, string name, string password)
    {
        if (!limit.Admits(context.Connection.RemoteIpAddress))
        {
            return "sign-in-slow";
        }

        await limit.PaceAsync(name, context.RequestAborted);
        var person = store.FindPerson(name);
        var hash = person is { IsDisabled: false } ? store.ReadPasswordHash(person.Id) : null;
        var right = Hasher.VerifyHashedPassword("", hash ?? NobodysHash, password) != PasswordVerificationResult.Failed;
        if (person is null || hash is null || !right)
        {
            return "sign-in-wrong";
        }

        await BeginAsync(context, person);
        return null;
    }

    /// <summary>Whether this is the person's password; an address may try so often.</summary>
    public bool? Knows(HttpContext context, Person person, string password) => !limit.Admits(context.Connection.RemoteIpAddress)
        ? null
        : store.ReadPasswordHash(person.Id) is { } hash && Hasher.VerifyHashedPassword("", hash, password) != PasswordVerificationResult.Failed;

    /// <summary>Begins a sign-in in this browser.</summary>
    public async Task BeginAsync(HttpContext context, Person person)
    {
        var key = Secrets.NewKey();
        await store.BeginSignInAsync(Secrets.Hash(key), person.Id, context.Request.Headers[HeaderNames.UserAgent].ToString(), context.RequestAborted);
        book.Renew();
        var identity = new ClaimsIdentity(CookieAuthenticationDefaults.AuthenticationScheme);
        identity.AddClaim(new Claim(ClaimTypes.NameIdentifier, person.Id.ToString(System.Globalization.CultureInfo.InvariantCulture)));
        identity.AddClaim(new Claim(KeyClaim, key));
        await context.SignInAsync(new ClaimsPrincipal(identity), new AuthenticationProperties { IsPersistent = true });
    }

    /// <summary>Ends the sign-in of this browser.</summary>
    public async Task EndAsync(HttpContext context)
    {
        if (context.SignedIn() is { } signed)
        {
            await store.EndSignInAsync(signed.Key, context.RequestAborted);
        }

        await context.SignOutAsync();
    }

    /// <summary>A cookie counts as long as its sign-in stands in the store; what the person may do is read anew for each request.</summary>
    public async Task ValidateAsync(CookieValidatePrincipalContext cookie)
    {
        var key = cookie.Principal?.FindFirstValue(KeyClaim);
        if (key is null || store.FindSignIn(Secrets.Hash(key)) is not { } signed)
        {
            cookie.RejectPrincipal();
            return;
        }

        cookie.HttpContext.Features.Set(signed);
        if (clock.GetUtcNow() - signed.LastSeen.ToDateTimeOffset() > TouchInterval)
        {
            try
            {
                await store.TouchSignInAsync(signed.Key, cookie.HttpContext.RequestAborted);
            }
            catch (StorageUnavailableException)
            {
                // With a full disk the pages must still open; the sign-in then only ages.
            }
        }
    }
}

/// <summary>Who sent a request.</summary>
internal static class SignedInRequest
{
    /// <summary>The sign-in behind a request; null for one without.</summary>
    public static SignIn? SignedIn(this HttpContext context) => context.Features.Get<SignIn>();
}
