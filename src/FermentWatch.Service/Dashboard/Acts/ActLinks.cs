using System.Security.Cryptography;
using FermentWatch.Infrastructure.Notifiers;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Telemetry;
using Microsoft.AspNetCore.DataProtection;

namespace FermentWatch.Service.Dashboard.Acts;

/// <summary>What a link of a notice allows: to say one thing about one thread of alerts, once.</summary>
/// <param name="Id">Id of the link, random.</param>
/// <param name="Act">What it says.</param>
/// <param name="Thread">About what.</param>
/// <param name="Ends">When it stops working.</param>
public sealed record ActLink(string Id, AlertAct Act, string Thread, DateTimeOffset Ends);

/// <summary>Makes and reads the links by which a reader of a notice says something about it without a sign-in.</summary>
/// <remarks>Encrypted and signed with the key ring of the data directory, for this purpose alone and for a time.</remarks>
public sealed class ActLinks(IDataProtectionProvider protection)
{
    /// <summary>Where such links lead, from the root of the pages; behind it stands the token.</summary>
    public const string Path = "act/";

    /// <summary>How long a link works: a notice may wait for the end of a week away.</summary>
    public static readonly TimeSpan Lifetime = TimeSpan.FromDays(7);

    private readonly ITimeLimitedDataProtector _protector = protection.CreateProtector("FermentWatch.Acts.Link.1").ToTimeLimitedDataProtector();

    /// <summary>A link for each act, under the configured root of the pages.</summary>
    /// <param name="root">Root of the pages, ending with a slash.</param>
    /// <param name="thread">Thread of the notice.</param>
    public ValueList<NoticeAct> For(Uri root, string thread) =>
        ValueList.Of(ActWords.All.Select(one => new NoticeAct(one.Word, ActText.Of(one.Word), new Uri(root, Path + Token(one.Word, thread, Lifetime)))));

    /// <summary>What a token allows; null when it is not of ours, was changed, or is too old.</summary>
    public ActLink? Read(string token)
    {
        try
        {
            var parts = _protector.Unprotect(token, out var ends).Split('\n');
            return parts.Length == 3 && ActWords.Find(parts[1]) is { } act ? new ActLink(parts[0], act, parts[2], ends) : null;
        }
        catch (CryptographicException)
        {
            return null;
        }
    }

    internal string Token(string word, string thread, TimeSpan lifetime) =>
        _protector.Protect($"{RandomNumberGenerator.GetHexString(20, lowercase: true)}\n{word}\n{thread}", lifetime);
}
