using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Telemetry;
using FsCheck.Xunit;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Alerting.Planning;

/// <summary>What must hold whatever happens: random troubles of several batches, random acts, every state through its stored form.</summary>
public sealed class NoticePlanningProperties
{
    private const int Day = 24 * 60;

    private static readonly DateTimeOffset Start = new(2026, 3, 2, 9, 0, 0, TimeSpan.Zero);
    private static readonly AlertSettings House = AlertSettings.Default with { Channels = ValueList.Of<string>("relay") };

    // Of the last day nothing new is told, so that all that waits has left.
    private static readonly int Busy = Day + 300;

    /// <summary>A seed with a snooze that ends on a day whose notices are used up.</summary>
    [Fact]
    public void SnoozeThatEndsOnAFullDay_KeepsEveryPromise() => RandomTroublesAndActs_KeepEveryPromise(6);

    [Property(MaxTest = 10)]
    public void RandomTroublesAndActs_KeepEveryPromise(int seed)
    {
        var run = Live(seed, out var troubles, out var dealtWith);
        StandingAlertThatNobodyDealtWith_WasToldOrIsInADigest(run, dealtWith, seed);
        DeviceAtTheEnd_ShowsNoAlertThatIsOver(run, seed);
        AllClearOrWithdrawal_ComesOnlyAfterTheAlertWasTold(run, seed);
        EachDay_BringsAtMostThreeNoticesAndOneDigest(run, seed);
        WhatCanWait_ComesNeitherAtNightNorTwiceInTenMinutesAboutABatch(run, seed);
        UrgentThatStandsForTwoMinutes_IsToldByItselfAMinuteLater(run, troubles, seed);
    }

    private static void StandingAlertThatNobodyDealtWith_WasToldOrIsInADigest(HouseRun run, HashSet<string> dealtWith, int seed)
    {
        var told = run.Sent.Where(sent => sent.Draft.Kind is TransitionKind.Raised or TransitionKind.Repeated or null).SelectMany(sent => sent.Draft.Alerts).ToHashSet();
        Assert.All(
            // Who snoozed it before it was told is told when the snooze ends, which the day's limit may leave to a digest after the end.
            run.Alerts.Where(alert => alert is { Standing: AlertStanding.Raised, AcknowledgedAt: null, Snooze: null } && !dealtWith.Contains(alert.Key)),
            alert => Assert.True(told.Contains(alert.Key), $"seed {seed}: {alert.Key} was never told"));
    }

    private static void DeviceAtTheEnd_ShowsNoAlertThatIsOver(HouseRun run, int seed)
    {
        var standing = run.Alerts.Where(alert => alert.Standing is AlertStanding.Raised).Select(alert => alert.Key).ToHashSet();
        foreach (var shown in run.Sent.Where(sent => sent.Draft.Kind is not null).GroupBy(sent => sent.Draft.Thread).Select(thread => thread.Last().Draft))
        {
            Assert.True(
                shown.Kind is TransitionKind.Cleared or TransitionKind.Withdrawn or TransitionKind.FoundInPast || shown.Alerts.Any(standing.Contains),
                $"seed {seed}: {shown.Key} still shows {string.Join(", ", shown.Alerts)}");
        }
    }

    private static void AllClearOrWithdrawal_ComesOnlyAfterTheAlertWasTold(HouseRun run, int seed)
    {
        var told = new HashSet<string>();
        foreach (var (_, draft) in run.Sent.Where(sent => sent.Draft.Kind is not null))
        {
            if (draft.Kind is TransitionKind.Cleared or TransitionKind.Withdrawn)
            {
                Assert.True(draft.Alerts.All(told.Contains), $"seed {seed}: {draft.Key} ends what nobody was told of");
            }

            told.UnionWith(draft.Alerts);
        }
    }

    private static void EachDay_BringsAtMostThreeNoticesAndOneDigest(HouseRun run, int seed)
    {
        foreach (var day in run.Sent.GroupBy(sent => sent.At.Date))
        {
            Assert.True(day.Count(sent => CanWait(sent.Draft)) <= 3, $"seed {seed}: {day.Key:d} brought {day.Count(sent => CanWait(sent.Draft))}");
            Assert.True(day.Count(sent => sent.Draft.Thread == "digest") <= 1, $"seed {seed}: two digests on {day.Key:d}");
        }
    }

    private static void WhatCanWait_ComesNeitherAtNightNorTwiceInTenMinutesAboutABatch(HouseRun run, int seed)
    {
        var sent = run.Sent.Where(one => CanWait(one.Draft)).ToList();
        Assert.All(sent, one => Assert.True(one.At.Hour is >= 8 and < 22, $"seed {seed}: {one.Draft.Key} at {one.At:t}"));
        foreach (var batch in sent.Where(one => !one.Draft.IsOfSeveralBatches).GroupBy(one => one.Draft.Batch))
        {
            foreach (var (one, next) in batch.Zip(batch.Skip(1)))
            {
                Assert.True(next.At - one.At >= TimeSpan.FromMinutes(10), $"seed {seed}: {next.Draft.Key} {next.At - one.At} after {one.Draft.Key}");
            }
        }
    }

    private static void UrgentThatStandsForTwoMinutes_IsToldByItselfAMinuteLater(HouseRun run, List<Trouble> troubles, int seed)
    {
        foreach (var trouble in troubles.Where(one => one.Severity is Severity.Urgent && one.From < Busy && (one.Until is not { } until || until > one.From + 1)))
        {
            Assert.True(
                run.Sent.Any(sent => sent.At == Start.AddMinutes(trouble.From + 1) && sent.Draft.Alerts.Count == 1 && sent.Draft.Alerts[0].Contains($"{trouble.Batch}/{trouble.Rule}/{trouble.Subject}/", StringComparison.Ordinal)),
                $"seed {seed}: {trouble} was not told in time");
        }
    }

    private static bool CanWait(OutboxDraft draft) => !draft.Silent && draft.Severity is not Severity.Urgent && draft.Kind is TransitionKind.Raised or TransitionKind.Repeated;

    private static HouseRun Live(int seed, out List<Trouble> troubles, out HashSet<string> dealtWith)
    {
        var random = new Random(seed);
        HashSet<string> acted = [];
        (troubles, dealtWith) = ([], acted);
        string[] rules = ["temperature-band", "temperature-drop", "temperature-danger"];
        var batches = random.Next(1, 8);
        for (var batch = 0; batch < batches; batch++)
        {
            foreach (var rule in rules)
            {
                foreach (var subject in new[] { "a", "b" })
                {
                    // A subject's troubles follow each other; some come in bursts with those of others.
                    for (var at = random.Next(2) == 0 ? 60 * random.Next(1, 40) : random.Next(1, Busy); at < Busy;)
                    {
                        int? until = random.Next(4) == 0 ? null : at + random.Next(1, random.Next(2) == 0 ? 20 : 900);
                        troubles.Add(new Trouble(
                            "batch-" + batch, rule, subject, at, until, rule == "temperature-danger" ? Severity.Urgent : Severity.Warning, until is not null && random.Next(8) == 0));
                        if (until is not { } over || random.Next(3) == 0)
                        {
                            break;
                        }

                        at = over + random.Next(5, 600);
                    }
                }
            }
        }

        var edges = troubles.SelectMany(trouble => new[] { trouble.From, trouble.Until ?? trouble.From }).SelectMany(minute => new[] { (minute - 1) / 5, minute / 5, (minute / 5) + 1 }).ToHashSet();
        // One listener with a night of their own: it is then held in the outbox, where notices still change.
        var settings = random.Next(2) == 0 ? House : House with
        {
            Channels = ValueList.Of<string>(),
            Personal = ValueList.Of(new PersonalChannel("relay", QuietHours.Default)),
        };
        return new HouseRun(Start, settings, [.. troubles])
        {
            Restarts = seed % 2 == 0,
            // Nothing happens far from the ends of troubles but what the clock brings.
            Every = minute => edges.Contains(minute / 5) ? 1 : 5 - (minute % 5),
        }.LiveUntil(Busy + Day + 180, run =>
        {
            if (random.Next(200) == 0 && run.Alerts.Where(alert => alert is { Standing: AlertStanding.Raised, Severity: not Severity.Urgent }).ToList() is { Count: > 0 } open)
            {
                var key = open[random.Next(open.Count)].Key;
                var act = (AlertAct)random.Next(1, 4);
                acted.Add(key);
                run.Act(key, set => set.Act(act, key, ReceivedAt.From(run.Now)));
            }
        });
    }
}
