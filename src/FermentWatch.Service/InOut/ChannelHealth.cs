using FermentWatch.Infrastructure.Notifiers;
using FermentWatch.Infrastructure.Storage;

namespace FermentWatch.Service.InOut;

/// <summary>How a channel is.</summary>
public enum ChannelLight
{
    /// <summary>Nothing was sent through it yet.</summary>
    Unknown = 0,

    /// <summary>It took what was sent last.</summary>
    Good = 1,

    /// <summary>An attempt failed, and it is tried again.</summary>
    Trying = 2,

    /// <summary>Three attempts failed, or a notice or test was not delivered.</summary>
    Failing = 3,
}

/// <summary>Judges a channel by what became of its notices and of its last test.</summary>
public static class ChannelHealth
{
    // shared with the alert of a failing channel: three failures are no accident.
    private const int Failures = 3;

    /// <summary>The light of a channel.</summary>
    /// <param name="rows">Its notices, newest first.</param>
    /// <param name="test">Its last test in this run, or null.</param>
    public static ChannelLight Of(IEnumerable<OutboxRow> rows, ChannelTest? test)
    {
        ArgumentNullException.ThrowIfNull(rows);
        var all = rows.ToList();
        var sent = all.Where(row => row.State is OutboxState.Sent).Max(row => row.FinishedAt?.ToDateTimeOffset());
        var given = all.Where(row => row.State is OutboxState.GivenUp).Max(row => row.FinishedAt?.ToDateTimeOffset());
        // What came last counts: a test after a failure shows that it works again, and the other way round.
        if (test is not null && !(sent > test.At) && !(given > test.At))
        {
            return test.Result is DeliveryResult.Delivered ? ChannelLight.Good : ChannelLight.Failing;
        }

        var failed = all.Where(row => row is { State: OutboxState.Waiting, LastError: not null }).Select(row => row.Attempts).DefaultIfEmpty().Max();
        return failed >= Failures || given > (sent ?? DateTimeOffset.MinValue) ? ChannelLight.Failing
            : failed > 0 ? ChannelLight.Trying
            : sent is not null ? ChannelLight.Good
            : ChannelLight.Unknown;
    }
}
