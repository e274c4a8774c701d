using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Infrastructure.Influx;

/// <summary>How the copy stands.</summary>
/// <param name="IsUp">Whether the last step worked.</param>
/// <param name="Problem">Why it did not; null when it did.</param>
/// <param name="Since">Since when it is so; null before the first step.</param>
/// <param name="Points">Points written since the start.</param>
/// <param name="SetAside">Points left out since the start.</param>
public sealed record CopyStatus(bool IsUp, string? Problem, DateTimeOffset? Since, long Points, long SetAside);

/// <summary>
/// Follows the changes of the store and writes what they are about to a server. Only the cursor is kept while the server is away, and that
/// on disk: an outage costs no memory, and whatever was not written is read again from the store. At least once; a repeat does no harm.
/// </summary>
public sealed class InfluxCopier
{
    /// <summary>Facts that one step reads.</summary>
    public const int FactsAtATime = 5000;

    private readonly Store _store;
    private readonly FactLines _lines;
    private readonly LineWriter _writer;
    private readonly TimeProvider _clock;
    private readonly string _target;
    private ChangePlace? _place;
    private volatile CopyStatus _status = new(false, null, null, 0, 0);

    /// <summary>Builds a copier. Nothing is sent yet.</summary>
    public InfluxCopier(Store store, InfluxTarget target, Func<QuantityKind, string> quantityWord, TimeProvider clock)
    {
        ArgumentNullException.ThrowIfNull(target);
        _store = store;
        _target = target.Settings.Target;
        _lines = new FactLines(target.Settings.Site, quantityWord);
        _clock = clock;
        _writer = new LineWriter(target, Probe(target.Settings.Site, clock));
    }

    /// <summary>How the copy stands.</summary>
    public CopyStatus Status => _status;

    /// <summary>Copies the next changes.</summary>
    /// <returns>What became of it, and whether more waits; when it waits for the server, the same is read again by the next step.</returns>
    /// <exception cref="StorageUnavailableException">The store cannot be read or written.</exception>
    public async Task<(CopyResult Result, bool IsLast)> StepAsync(CancellationToken cancellationToken)
    {
        if (_place is null)
        {
            await _store.FollowChangesAsync(_target, cancellationToken);
            _place = _store.ReadFollower() ?? throw new InvalidOperationException("The store follows nobody though it was asked to.");
        }

        var step = _store.ReadChanges(_place.Value, FactsAtATime);
        var result = await _writer.WriteAsync([.. step.Facts.SelectMany(_lines.Of)], cancellationToken);
        Note(result, isAnswer: step.Facts.Count > 0);
        if (result.Trouble is null)
        {
            if (step.Next.Whole > _place.Value.Whole)
            {
                await _store.PassChangesAsync(step.Next.Whole, cancellationToken);
            }

            _place = step.Next;
        }

        return (result, step.IsLast);
    }

    /// <summary>Writes what the service counted up to now. A sample that the server does not take is lost; the facts are not.</summary>
    public async Task<bool> SampleAsync(CancellationToken cancellationToken)
    {
        var result = await _writer.WriteAsync([_lines.OfCounts(_store.ReadCounts(), ReceivedAt.From(_clock.GetUtcNow()))], cancellationToken);
        Note(result, isAnswer: true);
        return result.Trouble is null;
    }

    private void Note(CopyResult result, bool isAnswer)
    {
        var was = _status;
        var isUp = result.Trouble is null && (isAnswer || was.IsUp);
        _status = new CopyStatus(
            isUp,
            ProblemOf(result.Trouble) ?? (isAnswer ? null : was.Problem),
            isUp == was.IsUp && was.Since is not null ? was.Since : _clock.GetUtcNow(),
            was.Points + result.Points,
            was.SetAside + result.SetAside.Count);
    }

    internal static string? ProblemOf(WriteOutcome? trouble) => trouble switch
    {
        WriteOutcome.TryAgain again => again.Because,
        WriteOutcome.Refused refused => refused.Because,
        _ => null,
    };

    /// <summary>A line that every server takes, with fields of counts that are sampled anyway.</summary>
    internal static string Probe(string site, TimeProvider clock) =>
        new LineText(PointNames.Ingest).Tag("site", site).Field("probes", 1L).At(ReceivedAt.From(clock.GetUtcNow()).UnixMicroseconds * 1000)!;
}
