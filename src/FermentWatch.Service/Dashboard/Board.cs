using System.Collections.Immutable;
using System.Globalization;
using System.Runtime.CompilerServices;
using System.Threading.Channels;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Service.Dashboard;

/// <summary>A part of the board that has a new version.</summary>
/// <param name="Topic">What a page shows: <c>book</c>, <c>alerts</c>, <c>messages</c>, <c>batch/</c> and a key, or <c>trial/</c> and a number.</param>
/// <param name="Version">Differs from every earlier one.</param>
public readonly record struct BoardChange(string Topic, long Version);

/// <summary>A snapshot with the versions of its parts, taken together.</summary>
/// <param name="Snapshot">What the pages show.</param>
/// <param name="Versions">Version of each topic.</param>
public sealed record BoardState(BoardSnapshot Snapshot, ImmutableDictionary<string, long> Versions);

/// <summary>Holds the newest snapshot for the pages and tells those who watch which parts changed. Safe for concurrent use.</summary>
public sealed class Board
{
    private readonly Lock _gate = new();
    private readonly List<Channel<bool>> _watchers = [];
    private BoardState _state;
    private long _version;

    /// <summary>An empty board.</summary>
    /// <param name="time">The clock; versions start from it, so that a page of an earlier run sees a difference.</param>
    public Board(TimeProvider time)
    {
        ArgumentNullException.ThrowIfNull(time);
        var now = time.GetUtcNow();
        _version = now.ToUnixTimeMilliseconds();
        var status = new ServiceStatus(Reason.Of("broker-starting"), false, null, default, ValueList.Of<RejectedMessage>());
        var empty = new BoardSnapshot(ValueList.Of<BoardEntry>(), status, false, now);
        _state = new BoardState(empty, Renewed(null, empty, ImmutableDictionary<string, long>.Empty));
    }

    /// <summary>The newest snapshot with its versions.</summary>
    public BoardState State
    {
        get
        {
            lock (_gate)
            {
                return _state;
            }
        }
    }

    /// <summary>Topic of a batch's page.</summary>
    public static string TopicOf(string batchKey) => "batch/" + batchKey;

    /// <summary>Topic of a bench trial's page.</summary>
    public static string TopicOfTrial(long trial) => string.Create(CultureInfo.InvariantCulture, $"trial/{trial}");

    /// <summary>Wakes those who watch: what stands in no snapshot, such as a taster's answers, has changed.</summary>
    public void Renew(string topic)
    {
        lock (_gate)
        {
            _state = _state with { Versions = _state.Versions.SetItem(topic, ++_version) };
            Wake();
        }
    }

    /// <summary>Replaces the snapshot and wakes those who watch when anything in it changed.</summary>
    public void Publish(BoardSnapshot snapshot)
    {
        ArgumentNullException.ThrowIfNull(snapshot);
        lock (_gate)
        {
            var versions = Renewed(_state.Snapshot, snapshot, _state.Versions);
            var changed = versions != _state.Versions;
            _state = new BoardState(snapshot, versions);
            if (changed)
            {
                Wake();
            }
        }
    }

    /// <summary>First every topic with its present version, then each change. A slow watcher gets only the newest version of a topic.</summary>
    public async IAsyncEnumerable<BoardChange> WatchAsync([EnumeratorCancellation] CancellationToken cancellationToken)
    {
        // Room for one signal is enough: the versions themselves are compared when the watcher gets to it.
        var signal = Channel.CreateBounded<bool>(new BoundedChannelOptions(1) { FullMode = BoundedChannelFullMode.DropWrite });
        signal.Writer.TryWrite(true);
        lock (_gate)
        {
            _watchers.Add(signal);
        }

        try
        {
            var told = ImmutableDictionary<string, long>.Empty;
            await foreach (var _ in signal.Reader.ReadAllAsync(cancellationToken).ConfigureAwait(false))
            {
                var versions = State.Versions;
                foreach (var (topic, version) in versions)
                {
                    if (told.GetValueOrDefault(topic) != version)
                    {
                        yield return new BoardChange(topic, version);
                    }
                }

                told = versions;
            }
        }
        finally
        {
            lock (_gate)
            {
                _watchers.Remove(signal);
            }
        }
    }

    private void Wake()
    {
        foreach (var watcher in _watchers)
        {
            watcher.Writer.TryWrite(true);
        }
    }

    private ImmutableDictionary<string, long> Renewed(BoardSnapshot? was, BoardSnapshot now, ImmutableDictionary<string, long> versions)
    {
        var builder = versions.ToBuilder();
        void Renew(string topic, bool same)
        {
            if (!same)
            {
                builder[topic] = ++_version;
            }
        }

        var allSame = was is not null && was.IsDemo == now.IsDemo && was.Entries.Count == now.Entries.Count;
        foreach (var entry in now.Entries)
        {
            var key = entry.View.Batch.Id.Value;
            var same = was?.Find(key) is { } before && SaysTheSame(before, entry);
            allSame &= same;
            Renew(TopicOf(key), same);
        }

        var sameBroker = was is not null && was.Status.BrokerUp == now.Status.BrokerUp && was.Status.Broker == now.Status.Broker;
        var sameService = was is not null && was.Status.Alerts.Equals(now.Status.Alerts);
        Renew("book", allSame && sameBroker && sameService);
        Renew("alerts", allSame && sameService);
        Renew("messages", sameBroker && was!.Status == now.Status && was.IsDemo == now.IsDemo);
        return builder.ToImmutable();
    }

    /// <summary>The moment of computing alone is no news.</summary>
    private static bool SaysTheSame(BoardEntry was, BoardEntry now) =>
        was.Alerts.Equals(now.Alerts) && was.View with { Now = now.View.Now } == now.View;
}
