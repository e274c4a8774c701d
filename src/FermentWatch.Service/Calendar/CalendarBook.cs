using System.Globalization;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Service.Access;

namespace FermentWatch.Service.Calendar;

/// <summary>Whose calendar is at which secret address. Only hashes of addresses are kept: each is shown once, and can be taken back.</summary>
public sealed class CalendarBook(Store store)
{
    private const string Prefix = "calendar-";

    /// <summary>Whether a person has an address.</summary>
    public bool Has(Person person) => store.ReadProperties(NameOf(person)).Count > 0;

    /// <summary>Makes an address for a person; the one before no longer works.</summary>
    /// <exception cref="StorageUnavailableException">Nothing was kept.</exception>
    public async Task<string> MakeAsync(Person person, CancellationToken cancellationToken)
    {
        var key = Secrets.NewKey();
        await store.WritePropertiesAsync(new Dictionary<string, string?> { [NameOf(person)] = Secrets.Hash(key) }, cancellationToken);
        return key;
    }

    /// <summary>Takes a person's address back.</summary>
    /// <exception cref="StorageUnavailableException">It still works.</exception>
    public Task RevokeAsync(Person person, CancellationToken cancellationToken) =>
        store.WritePropertiesAsync(new Dictionary<string, string?> { [NameOf(person)] = null }, cancellationToken);

    /// <summary>Whose address it is; null for nobody's, or of somebody who may not sign in any more.</summary>
    public Person? Find(string key)
    {
        var hash = Secrets.Hash(key);
        var kept = store.ReadProperties(Prefix);
        return store.ReadPeople().FirstOrDefault(person => !person.IsDisabled && kept.TryGetValue(NameOf(person), out var known) && Secrets.AreSame(known, hash));
    }

    // The end keeps the name of one person from being the beginning of another's.
    private static string NameOf(Person person) => string.Create(CultureInfo.InvariantCulture, $"{Prefix}{(person ?? throw new ArgumentNullException(nameof(person))).Id}.");
}
