using System.Security.Cryptography;
using FermentWatch.Infrastructure.Notifiers;
using FermentWatch.Infrastructure.Storage;
using Microsoft.AspNetCore.DataProtection;

namespace FermentWatch.Service.Personal;

/// <summary>The house's identity at push services: made once, kept encrypted under the key ring of the data directory.</summary>
internal static class PushKeys
{
    private const string Property = "push-key";

    /// <summary>Reads the identity; the first time, makes it. When the key ring was lost, a new one is made: browsers then subscribe anew.</summary>
    /// <exception cref="StorageUnavailableException">It could not be kept.</exception>
    public static PushIdentity Read(Store store, IDataProtectionProvider protection)
    {
        var protector = protection.CreateProtector("FermentWatch.Push.Key.1");
        try
        {
            if (store.ReadProperties(Property).GetValueOrDefault(Property) is { } kept)
            {
                return PushIdentity.Of(protector.Unprotect(Convert.FromBase64String(kept)));
            }
        }
        catch (CryptographicException)
        {
            // The keys with which it was encrypted are lost.
        }

        var key = PushIdentity.NewKey();
        store.WritePropertiesAsync(new Dictionary<string, string?> { [Property] = Convert.ToBase64String(protector.Protect(key)) }, CancellationToken.None).GetAwaiter().GetResult();
        return PushIdentity.Of(key);
    }
}
