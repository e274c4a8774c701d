using FermentWatch.Monitoring.Alerting.Rules;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting;

/// <summary>Reconciles what the facts show now with what was said before.</summary>
public static class Alerts
{
    // How stale the running timers on disk may become: what a kill can take from them.
    private static readonly TimeSpan LongestUnstored = TimeSpan.FromMinutes(15);

    /// <summary>
    /// One pass over one batch. New episodes are raised, those wholly in the past go to history, vanished ones are withdrawn,
    /// ended ones give an all-clear. What quiet hours hold back is told by the first pass after them, if it is still so.
    /// </summary>
    /// <param name="was">The set that the last pass left, from disk.</param>
    /// <param name="view">The batch as its facts show it now.</param>
    /// <param name="settings">Limits and delays.</param>
    /// <param name="pass">The present.</param>
    public static StepResult Step(AlertSet was, BatchView view, AlertSettings settings, Pass pass)
    {
        var batch = view.Batch.Id;
        pass = Worked(view, pass);
        var found = EpisodeReconciliation.Apply(was, view, pass);
        var set = found.Set;
        var episodes = found.Episodes;
        var ended = new Dictionary<string, Reason>();
        foreach (var rule in AlertRuleCatalog.All)
        {
            if (rule.OnTicks is { } tick && settings.IsOn(rule.Id))
            {
                var result = tick(set, view, settings, pass);
                set = TickReconciliation.Apply(result, rule.Id, batch, view.Now, episodes, ended);
            }
        }

        // Repeats count listened time whichever rules are on.
        set = set with { Listened = was.Listened + pass.Listening };
        var (told, transitions) = Telling.Apply(set, episodes, ended, settings, pass, view);
        var now = AlertHistory.Trim(told);
        var mustStore = now.Listened - now.StoredAtListened >= LongestUnstored || DiffersBeyondTimers(now, was);
        return new StepResult(mustStore ? now with { StoredAtListened = now.Listened } : now, transitions, mustStore);
    }

    /// <summary>
    /// One pass over all batches, as at a tick: sensors of several batches that fall silent together are found together and share
    /// a thread, so that <see cref="NoticePlan"/> tells them in one notice. Results are in the order of <paramref name="batches"/>.
    /// </summary>
    public static ValueList<StepResult> StepAll(
        IReadOnlyList<(AlertSet Was, BatchView View)> batches,
        AlertSettings settings,
        Pass pass)
    {
        var silences = batches.Select(batch => SensorSilentRule.ShortestSilence(batch.Was, batch.View, settings, Worked(batch.View, pass))).ToList();
        var results = new List<StepResult>();
        for (var i = 0; i < batches.Count; i++)
        {
            var elsewhere = silences.Where((_, other) => other != i).Min();
            results.Add(Step(batches[i].Was, batches[i].View, settings, pass with { SilentElsewhere = elsewhere }));
        }

        return Telling.ShareThreads(results);
    }

    /// <summary>While somebody works on the vessel its sensors lie on the table: no time counts as their silence.</summary>
    private static Pass Worked(BatchView view, Pass pass) => view.IsWorking ? pass with { Listening = TimeSpan.Zero } : pass;

    private static bool DiffersBeyondTimers(AlertSet now, AlertSet was) =>
        !now.Alerts.Equals(was.Alerts)
        || now.KnownUntil != was.KnownUntil
        || now.NextNumber != was.NextNumber
        || !now.Memories.Equals(was.Memories)
        || !now.Listening.Select(one => (one.Sensor, one.State.Phase)).SequenceEqual(was.Listening.Select(one => (one.Sensor, one.State.Phase)));
}
