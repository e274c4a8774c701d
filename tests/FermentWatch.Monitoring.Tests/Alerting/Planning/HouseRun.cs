using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Alerting.Planning;

/// <summary>An alert of the story: from when to when it holds, in minutes, and whether late facts take it back in the end.</summary>
internal sealed record Trouble(string Batch, string Rule, string Subject, int From, int? Until, Severity Severity = Severity.Warning, bool NeverWas = false);

/// <summary>A row as it left the outbox.</summary>
internal sealed record SentNotice(DateTimeOffset At, OutboxDraft Draft);

/// <summary>Lives through troubles of several batches minute by minute: passes, plans, an outbox that sends what is due, restarts, acts.</summary>
internal sealed class HouseRun(DateTimeOffset start, AlertSettings settings, params Trouble[] troubles)
{
    private Trouble[] _troubles = troubles;
    private readonly Dictionary<string, (OutboxDraft Draft, bool IsWaiting)> _outbox = [];
    private readonly string[] _batches = [.. troubles.Select(trouble => trouble.Batch).Append("quince").Distinct()];
    private DateTimeOffset? _lastPass;
    private bool _isFirst = true;

    public TimeZoneInfo Zone { get; init; } = TimeZoneInfo.Utc;

    /// <summary>How many minutes from one pass to the next.</summary>
    public Func<int, int> Every { get; init; } = _ => 1;

    /// <summary>Whether all that is kept goes through its stored form after each pass.</summary>
    public bool Restarts { get; init; }

    public Func<int, bool> IsTrusted { get; init; } = _ => true;

    public Dictionary<string, AlertSet> Sets { get; private set; } = [];

    public NoticeLedger Ledger { get; private set; } = NoticeLedger.Empty;

    public List<SentNotice> Sent { get; } = [];

    public int Minute { get; private set; }

    public DateTimeOffset Start => start;

    public DateTimeOffset Now => start.AddMinutes(Minute);

    public IEnumerable<OutboxDraft> Waiting => _outbox.Values.Where(row => row.IsWaiting).Select(row => row.Draft);

    public IEnumerable<TrackedAlert> Alerts => Sets.Values.SelectMany(set => set.Alerts);

    public HouseRun LiveUntil(int minute, Action<HouseRun>? before = null)
    {
        for (; Minute <= minute; Minute += Every(Minute))
        {
            before?.Invoke(this);
            Pass();
        }

        return this;
    }

    /// <summary>Does not run until then; what is due is sent by nobody meanwhile.</summary>
    public HouseRun DownUntil(int minute)
    {
        Minute = minute;
        (_lastPass, _isFirst) = (Now, true);
        return this;
    }

    /// <summary>The wall clock jumps while all goes on.</summary>
    public void Jump(int minute)
    {
        Minute = minute;
        _lastPass = Now;
    }

    /// <summary>From here on the facts say this.</summary>
    public void Change(params Trouble[] now) => _troubles = now;

    public void Act(string alert, Func<AlertSet, AlertSet> act)
    {
        foreach (var (batch, set) in Sets.Where(pair => pair.Value.Alerts.Any(one => one.Key == alert)).ToList())
        {
            Sets[batch] = act(set);
        }
    }

    public void Pass()
    {
        var now = ReceivedAt.From(Now);
        Send();
        var pass = new Pass(now, Now - (_lastPass ?? Now), Zone, IsTrusted(Minute)) { IsFirst = _isFirst };
        var views = _batches.Select(View).ToList();
        var results = Monitoring.Alerting.Alerts.StepAll([.. views.Select(view => (Sets.GetValueOrDefault(view.Batch.Id.Value, AlertSet.Empty), view))], settings, pass);
        var plan = NoticePlan.For([.. views.Zip(results)], settings, pass, Ledger);
        foreach (var key in plan.Canceled.Where(_outbox.ContainsKey))
        {
            _outbox[key] = _outbox[key] with { IsWaiting = false };
        }

        foreach (var draft in plan.Drafts)
        {
            Assert.True(_outbox.TryAdd(draft.Key, (draft, true)), $"The key {draft.Key} was used twice.");
        }

        Sets = views.Zip(results).ToDictionary(pair => pair.First.Batch.Id.Value, pair => Restarts ? AlertJson.ReadSet(AlertJson.Write(pair.Second.Now)) : pair.Second.Now);
        Ledger = Restarts ? AlertJson.ReadLedger(AlertJson.Write(plan.Ledger)) : plan.Ledger;
        (_lastPass, _isFirst) = (Now, _isFirst && !pass.ClockTrusted);
        Send();
    }

    private void Send()
    {
        foreach (var (key, row) in _outbox.Where(row => row.Value.IsWaiting && row.Value.Draft.NextAttemptAt.ToDateTimeOffset() <= Now).OrderBy(row => row.Value.Draft.NextAttemptAt).ToList())
        {
            _outbox[key] = row with { IsWaiting = false };
            Sent.Add(new SentNotice(Now, row.Draft));
        }
    }

    private BatchView View(string batch)
    {
        EventTime At(int minute) => EventTime.From(start.AddMinutes(minute));
        var episodes =
            from trouble in _troubles
            where trouble.Batch == batch && trouble.From <= Minute && !(trouble.NeverWas && trouble.Until <= Minute)
            let until = trouble.Until <= Minute ? trouble.Until : null
            orderby trouble.From
            select new AlertEpisode(
                trouble.Rule, trouble.Subject, trouble.Severity, At(trouble.From), At(trouble.From), until is { } end ? At(end) : null, Because(trouble, At(trouble.From)))
            {
                EvidenceAt = EventTime.From(Now),
                ClearedBecause = Because(trouble, At(trouble.From)),
            };
        return BatchViews.Of(batch, batch, band: null, [], [], [], settings, EventTime.From(Now)) with { Episodes = ValueList.Of(episodes) };
    }

    private static Reason Because(Trouble trouble, EventTime at) => Reason.Of(
        "any", new ReasonValue.Name(trouble.Subject), new ReasonValue.Degrees(27.8), new ReasonValue.Degrees(25), new ReasonValue.Moment(at), new ReasonValue.Degrees(28.1));
}
