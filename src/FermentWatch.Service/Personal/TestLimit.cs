using System.Globalization;
using System.Threading.RateLimiting;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Service.Access;

namespace FermentWatch.Service.Personal;

/// <summary>How often a person may send a test: otherwise the house's mail server would write to anybody as often as somebody likes.</summary>
internal sealed class TestLimit : IAsyncDisposable
{
    /// <summary>Tests of a person in a minute.</summary>
    public const int TestsAMinute = 5;

    private readonly PartitionedRateLimiter<string> _people = GuessLimit.EachMinute(TestsAMinute);

    public bool Admits(Person person)
    {
        using var lease = _people.AttemptAcquire(person.Id.ToString(CultureInfo.InvariantCulture));
        return lease.IsAcquired;
    }

    /// <inheritdoc/>
    public ValueTask DisposeAsync() => _people.DisposeAsync();
}
