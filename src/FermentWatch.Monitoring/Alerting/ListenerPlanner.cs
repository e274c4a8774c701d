using System.Globalization;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting;

/// <summary>
/// Plans the notices of one pass for one listener. A notice that is not due yet can still be changed: its row is canceled and another one
/// takes its place. Whatever is held back, by night, by limits or by an act, is compared with what the listener was last told.
/// </summary>
internal sealed class ListenerPlanner
{
    // Notices that left are kept for as long as limits count them.
    private static readonly TimeSpan Kept = TimeSpan.FromHours(48);

    // A clock that is set back by more than this would keep a notice that left changeable.
    private static readonly TimeSpan ClockSlack = TimeSpan.FromMinutes(10);

    private readonly PersonalChannel _listener;
    private readonly AlertSettings _settings;
    private readonly Pass _pass;
    private readonly ListenerLedger _was;
    private readonly List<PlannedNotice> _notices;
    private readonly List<ShownAlert> _shown;
    private readonly List<NoticeLine> _digest;
    private int _fleeting;

    public ListenerPlanner(PersonalChannel listener, ListenerLedger was, AlertSettings settings, Pass pass)
    {
        (_listener, _settings, _pass, _was) = (listener, settings, listener.Of(pass), was);
        _notices = [.. was.Notices];
        _shown = [.. was.Shown];
        _digest = [.. was.Digest];
        _fleeting = was.Fleeting;
        Settle();
    }

    /// <summary>Key of a row: alert, number of the notice about it, how often it was changed while it waited, channel.</summary>
    public static string KeyOf(string alert, int state, int revision, string channel) => string.Create(
        CultureInfo.InvariantCulture, $"{alert}#{state}{(revision == 0 ? "" : "~" + revision)}@{channel}");

    private NoticeLimits Limits => _settings.Limits;

    private QuietHours? Night => _listener.QuietHours ?? _settings.CommonQuietHours;

    /// <summary>Alerts that were told before this ledger was kept count as shown.</summary>
    public void Seed(IEnumerable<TrackedAlert> told) => _shown.AddRange(told.Select(alert => new ShownAlert(alert.Key, alert.Thread)));

    /// <summary>Takes out of what still waits whatever people dealt with meanwhile, and what does not stand any more.</summary>
    public void Drop(Func<string, bool> isDealtWith)
    {
        _digest.RemoveAll(line => line.Alerts.All(isDealtWith));
        Change(line => line.Kind is TransitionKind.Raised or TransitionKind.Repeated && line.Alerts.All(isDealtWith));
    }

    /// <summary>Takes a line of this pass.</summary>
    /// <param name="line">The line.</param>
    /// <param name="foundAt">When what it tells was found; null where that is no matter.</param>
    public void Take(NoticeLine line, EventTime? foundAt = null)
    {
        // What was said before about the same alert, and still waits, is overtaken.
        bool IsBefore(NoticeLine other) => other.Thread == line.Thread || (other.Kind is not TransitionKind.FoundInPast && other.Alerts.All(line.Alerts.Contains));
        if (line.Kind is not TransitionKind.FoundInPast)
        {
            Change(IsBefore);
            _digest.RemoveAll(other => IsBefore(other) || (line.Severity is Severity.Info && other.Severity is Severity.Info && other.Rule == line.Rule && other.Batch == line.Batch));
        }

        switch (line.Kind)
        {
            case TransitionKind.Raised or TransitionKind.Repeated:
                Tell(line, foundAt);
                break;
            case TransitionKind.FoundInPast:
                Add(NoticeManner.One, line.Thread, Due(line), [line]);
                break;
            default:
                End(line);
                break;
        }
    }

    /// <summary>Whether the listener was told of an alert, or is about to be.</summary>
    public bool Knows(string alert) =>
        _shown.Exists(one => one.Alert == alert) || _notices.Exists(notice => !notice.IsTold && notice.Lines.Any(line => line.IsAloud && line.Alerts.Contains(alert)));

    /// <summary>Adds a notice that is not about a change of an alert.</summary>
    public void Add(string key, NoticeManner manner, ReceivedAt due, IReadOnlyList<NoticeLine> lines) =>
        Keep(new PlannedNotice(key, manner, manner == NoticeManner.Digest ? "digest" : lines[0].Thread, _pass.Now, due, ValueList.Of(lines)));

    /// <summary>The daily digest, once on each day of the wall clock: what was held back, and what nobody is reminded of any more.</summary>
    public DateOnly? Digest(IReadOnlyList<NoticeLine> lasting)
    {
        if (!_pass.ClockTrusted)
        {
            return _was.DigestDay;
        }

        var local = TimeZoneInfo.ConvertTime(_pass.Now.ToDateTimeOffset(), _pass.Zone);
        var today = DateOnly.FromDateTime(local.DateTime);
        var isTime = TimeOnly.FromDateTime(local.DateTime) >= (Night?.Until ?? Limits.DigestAt) && Night?.EndOf(_pass.Now, _pass.Zone) is null;
        // A day far ahead was noted while the clock was wrong; who travels west lives a day twice.
        var dealtWith = _was.DigestDay is { } noted && noted.DayNumber <= today.DayNumber + 1 ? noted : (DateOnly?)null;
        if (_was.DigestDay is null)
        {
            return isTime ? today : today.AddDays(-1);
        }

        if (!isTime || dealtWith >= today)
        {
            return _was.DigestDay;
        }

        var lines = _digest.Concat(lasting.Where(line => !_digest.Exists(held => held.Alerts.Any(line.Alerts.Contains)))).ToList();
        _digest.Clear();
        if (lines.Count > 0)
        {
            Add(string.Create(CultureInfo.InvariantCulture, $"digest/{today:yyyy-MM-dd}@{_listener.Name}"), NoticeManner.Digest, _pass.Now, lines);
        }

        return today;
    }

    /// <summary>The ledger after the pass.</summary>
    /// <param name="stands">Whether an alert stands.</param>
    /// <param name="digestDay">The day whose digest was dealt with.</param>
    public ListenerLedger Ledger(Func<string, bool> stands, DateOnly? digestDay) => _was with
    {
        Notices = ValueList.Of(_notices
            .Where(notice => !notice.IsTold || (_pass.Now - notice.Due).Duration() < Kept)
            .Select(notice => notice.IsTold ? notice with { Lines = ValueList.Of(notice.Lines.Select(Slim)) } : notice)),
        Shown = ValueList.Of(_shown.Where(shown => stands(shown.Alert))),
        Digest = ValueList.Of<NoticeLine>(_digest),
        DigestDay = digestDay,
        Fleeting = _fleeting,
    };

    /// <summary>New rows, and the keys of rows that they or nothing replace.</summary>
    public (IEnumerable<OutboxDraft> Drafts, IEnumerable<string> Canceled) Rows(IReadOnlyDictionary<BatchId, BatchView> views)
    {
        var known = _was.Notices.Select(notice => notice.Key).ToHashSet(StringComparer.Ordinal);
        var now = _notices.Select(notice => notice.Key).ToHashSet(StringComparer.Ordinal);
        var drafts = _notices.Where(notice => !known.Contains(notice.Key)).Select(notice => Draft(notice, views));
        return (drafts, _was.Notices.Where(notice => !now.Contains(notice.Key)).Select(notice => notice.Key));
    }

    // A notice whose time has come has left: from here on the listener knows.
    private void Settle()
    {
        for (var i = 0; i < _notices.Count; i++)
        {
            var notice = _notices[i];
            if (!notice.IsTold && (notice.Due <= _pass.Now || notice.PlannedAt - _pass.Now > ClockSlack))
            {
                _notices[i] = notice with { IsTold = true };
                foreach (var line in notice.Lines.Where(line => notice.Manner is not NoticeManner.Digest && line.Kind is TransitionKind.Raised or TransitionKind.Repeated))
                {
                    // A repeat in a group leaves the older notice of its own where it is: both end with the alert.
                    _shown.RemoveAll(shown => shown.Thread == notice.Thread && line.Alerts.Contains(shown.Alert));
                    _shown.AddRange(line.Alerts.Select(alert => new ShownAlert(alert, notice.Thread)));
                }
            }
        }
    }

    private void Tell(NoticeLine line, EventTime? foundAt)
    {
        var due = Due(line);
        if (line.CannotWait || !_pass.ClockTrusted)
        {
            Add(NoticeManner.One, line.Thread, due, [line]);
            return;
        }

        if (line.Severity is Severity.Info || (foundAt is { } found && Night?.EndOf(new ReceivedAt(found.UnixMicroseconds), _pass.Zone) is not null))
        {
            _digest.Add(line);
            return;
        }

        var waiting = _notices.Where(notice => !notice.IsTold && notice.Manner is NoticeManner.One or NoticeManner.Group or NoticeManner.Flood
            && notice.Lines.All(one => one is { IsAloud: true, CannotWait: false })).ToList();
        if (IsFlood(line))
        {
            var floods = _notices.Where(notice => notice is { IsTold: true, Manner: NoticeManner.Flood }).Select(notice => notice.Due + Limits.GroupInterval);
            // What the day's limit sent to the digest a moment ago is part of it.
            var held = waiting.Count == 0 ? [] : _digest.FindAll(one => one.Severity is not Severity.Info && IsInFlood(one, line));
            _digest.RemoveAll(held.Contains);
            Join(NoticeManner.Flood, waiting, [.. held, line], floods.Append(due).Max());
        }
        else if (waiting.Find(notice => notice.Lines.Any(one => one.Batch == line.Batch)) is { } mate)
        {
            Join(mate.Manner is NoticeManner.Flood ? NoticeManner.Flood : NoticeManner.Group, [mate], [line], due);
        }
        else
        {
            Join(NoticeManner.One, [], [line], Soonest(line, due));
        }
    }

    /// <summary>Puts lines together with notices that still wait; alone they take one of the day's places, or wait for the digest.</summary>
    private void Join(NoticeManner manner, List<PlannedNotice> waiting, IReadOnlyList<NoticeLine> lines, ReceivedAt due)
    {
        var line = lines[^1];
        if (waiting.Count == 0)
        {
            if (Today(due) >= (_listener.ADay ?? Limits.ADay))
            {
                _digest.AddRange(lines);
            }
            else
            {
                Add(manner, manner is NoticeManner.One ? line.Thread : ThreadOf(manner, line), due, lines);
            }

            return;
        }

        _notices.RemoveAll(waiting.Contains);
        var thread = waiting.Find(notice => notice.Manner == manner)?.Thread ?? ThreadOf(manner, line);
        Keep(new PlannedNotice(
            KeyOf(line, 0), manner, thread, _pass.Now, waiting.Min(notice => notice.Due), ValueList.Of([.. waiting.SelectMany(notice => notice.Lines), .. lines]))
        {
            // Keys of a line that is left over stay new for as long as it waits.
            Revision = waiting.Max(notice => notice.Revision),
        });
    }

    // An all-clear would replace the notice on the device: it waits for the last alert that is shown there.
    private void End(NoticeLine line)
    {
        var shown = _shown.Where(one => line.Alerts.Contains(one.Alert)).ToList();
        if (shown.Count == 0)
        {
            _fleeting++;
            return;
        }

        _shown.RemoveAll(shown.Contains);
        var free = shown.Select(one => one.Thread).Distinct().Where(thread => !_shown.Exists(one => one.Thread == thread)).ToList();
        if (line.Kind is TransitionKind.Withdrawn)
        {
            Add(NoticeManner.One, free.FirstOrDefault(line.Thread), Due(line), [line]);
            free = [.. free.Skip(1)];
        }

        // Where the same was shown a second time, it goes without a sound.
        var silent = line with { Kind = TransitionKind.Cleared };
        for (var i = 0; i < free.Count; i++)
        {
            var revision = line.Kind is TransitionKind.Withdrawn ? i + 1 : i;
            Keep(new PlannedNotice(KeyOf(line, revision), NoticeManner.One, free[i], _pass.Now, Due(silent), ValueList.Of(silent)));
        }
    }

    private bool IsFlood(NoticeLine line) => _notices
        .Where(notice => notice.Manner is NoticeManner.One or NoticeManner.Group or NoticeManner.Flood)
        .SelectMany(notice => notice.Lines)
        .Concat(_digest)
        .Count(other => other.IsAloud && other.Severity is not Severity.Urgent && IsInFlood(other, line)) >= Limits.FloodAbove;

    private bool IsInFlood(NoticeLine other, NoticeLine line) => (line.At - other.At).Duration() < Limits.FloodWindow;

    private ReceivedAt Soonest(NoticeLine line, ReceivedAt due)
    {
        var last = _notices.Where(notice => notice.IsTold && notice.Counts && notice.Due <= _pass.Now && notice.Lines.Any(one => one.Batch == line.Batch)).ToList();
        var next = last.Count == 0 ? due : last.Max(notice => notice.Due) + Limits.GroupInterval;
        return next > due ? next : due;
    }

    private int Today(ReceivedAt due) => _notices.Count(notice => notice.Counts && Day(notice.Due) == Day(due));

    private DateTime Day(ReceivedAt at) => TimeZoneInfo.ConvertTime(at.ToDateTimeOffset(), _pass.Zone).Date;

    private ReceivedAt Due(NoticeLine line) => _listener.Due(line.Kind, line.Severity, _settings, _pass);

    private void Add(NoticeManner manner, string thread, ReceivedAt due, IReadOnlyList<NoticeLine> lines) =>
        Keep(new PlannedNotice(KeyOf(lines[^1], 0), manner, thread, _pass.Now, due, ValueList.Of(lines)));

    private void Keep(PlannedNotice notice)
    {
        if (!_notices.Exists(one => one.Key == notice.Key))
        {
            _notices.Add(notice);
        }
    }

    /// <summary>Takes lines out of what still waits. What is left of a notice takes a new row.</summary>
    private void Change(Func<NoticeLine, bool> isOver)
    {
        for (var i = _notices.Count - 1; i >= 0; i--)
        {
            var notice = _notices[i];
            if (notice.IsTold || notice.Manner is NoticeManner.Digest or NoticeManner.Away || !notice.Lines.Any(isOver))
            {
                continue;
            }

            var left = notice.Lines.Where(line => !isOver(line)).ToList();
            if (left.Count == 0)
            {
                _notices.RemoveAt(i);
                continue;
            }

            var revision = notice.Revision + 1;
            _notices[i] = notice with
            {
                Key = KeyOf(left[^1], revision),
                Manner = left.Count == 1 ? NoticeManner.One : notice.Manner,
                Thread = left.Count == 1 ? left[0].Thread : notice.Thread,
                Lines = ValueList.Of<NoticeLine>(left),
                Revision = revision,
            };
        }
    }

    private string KeyOf(NoticeLine line, int revision) => KeyOf(line.Alerts[0], line.StateNumber, revision, _listener.Name);

    private static string ThreadOf(NoticeManner manner, NoticeLine line) => string.Create(
        CultureInfo.InvariantCulture, $"{(manner is NoticeManner.Flood ? "flood" : "group")}/{line.Alerts[0]}#{line.StateNumber}");

    private static NoticeLine Slim(NoticeLine line) => line.Body.Count == 0 ? line : line with { Body = ValueList.Of<Reason>() };

    private OutboxDraft Draft(PlannedNotice notice, IReadOnlyDictionary<BatchId, BatchView> views)
    {
        var lines = notice.Lines;
        var words = ManyNotice.Words(notice.Manner, lines, views.GetValueOrDefault(lines[0].Batch));
        var isForHelper = notice.Manner is NoticeManner.One && lines[0] is { Kind: TransitionKind.Raised or TransitionKind.Repeated }
            && words.Body.Count > 0 && _settings.Away?.IsHelper(_listener.Name, _pass.Now) == true;
        var isSilent = lines.All(line => !line.IsAloud) && notice.Manner is not NoticeManner.Away;
        return new OutboxDraft(
            notice.Key,
            _listener.Name,
            notice.Thread,
            lines[0].Batch,
            isSilent ? Severity.Info : notice.Manner is NoticeManner.Digest ? Severity.Action : lines.Max(line => line.Severity),
            isSilent,
            words.Title,
            isForHelper ? HelperSteps.Of(lines[0].Rule, words.Body) : words.Body,
            notice.Due)
        {
            Alerts = ValueList.Of(lines.SelectMany(line => line.Alerts)),
            IsOfSeveralBatches = lines.Select(line => line.Batch).Distinct().Count() > 1,
            Kind = notice.Manner is NoticeManner.One or NoticeManner.Group or NoticeManner.Flood ? lines[0].Kind : null,
        };
    }
}
