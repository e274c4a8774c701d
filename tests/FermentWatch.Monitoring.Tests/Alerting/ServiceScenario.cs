using System.Globalization;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Alerting.Services;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Tests.Alerting;

/// <summary>
/// A story of the service itself, a line a thing: <c>broker T T</c> and <c>writes-fail T T</c> (gone or failing then), <c>free T SHARE</c>,
/// <c>backup T [bad]</c>, <c>no-backup</c>, <c>fails CHANNEL T N T N ...</c>, <c>works CHANNEL T</c>, <c>says T ACT RULE</c> (what somebody says about the standing alert: OnIt, Snooze ...), <c>until T</c>, <c>notice T TITLE</c>.
/// It begins at 8:00 UTC; quiet hours are 22:00 to 08:00; channels are relay and mail; a pass comes every minute. Notices are those of
/// the mail, so that what a failing relay can't tell is told.
/// </summary>
public sealed class ServiceScenario
{
    private const long Disk = 100_000_000_000;

    private static readonly DateTimeOffset Start = new(2026, 3, 2, 8, 0, 0, TimeSpan.Zero);

    private readonly List<(TimeSpan From, TimeSpan Until)> _brokerLost = [];
    private readonly List<(TimeSpan From, TimeSpan Until)> _writesFail = [];
    private readonly List<(TimeSpan At, double Share)> _free = [];
    private readonly List<(TimeSpan At, int Failures)> _failures = [];
    private readonly List<(TimeSpan At, AlertAct Act, string Rule)> _acts = [];
    private (TimeSpan At, bool IsSound)? _backup;
    private bool _hasNoBackup;
    private TimeSpan _until;

    public List<ExpectedNotice> Expected { get; } = [];

    public static ServiceScenario Parse(string text)
    {
        var scenario = new ServiceScenario();
        foreach (var line in text.Split('\n').Select(line => line.Split('#')[0].Trim()).Where(line => line.Length > 0))
        {
            scenario.Take(line.Split(' ', StringSplitOptions.RemoveEmptyEntries), line);
        }

        return scenario;
    }

    public List<OutboxDraft> Live(bool restartsBetweenPasses)
    {
        var settings = AlertSettings.Default with { Channels = ValueList.Of<string>("relay", "mail") };
        var (set, drafts, ledger) = (ServiceSet.Empty, new List<OutboxDraft>(), NoticeLedger.Empty);
        for (var at = TimeSpan.Zero; at <= _until; at += TimeSpan.FromMinutes(1))
        {
            var pass = new Pass(ReceivedAt.From(Start + at), at > TimeSpan.Zero ? TimeSpan.FromMinutes(1) : TimeSpan.Zero, TimeZoneInfo.Utc);
            foreach (var said in _acts.Where(one => one.At == at))
            {
                set = set.Act(said.Act, set.Alerts.Last(alert => alert.Rule == said.Rule).Key, pass.Now);
            }

            var step = ServiceAlerts.Step(set, Facts(at), new ServiceLimits(), settings, pass);
            drafts.AddRange(step.Drafts);
            set = restartsBetweenPasses ? ServiceSet.Read(ServiceSet.Write(step.Now)) : step.Now;
            var plan = NoticePlan.For([], settings, pass, ledger, ServiceAlerts.Lasting(set, pass.Now));
            drafts.AddRange(plan.Drafts);
            ledger = restartsBetweenPasses ? AlertJson.ReadLedger(AlertJson.Write(plan.Ledger)) : plan.Ledger;
        }

        return drafts;
    }

    public static ExpectedNotice Notice(OutboxDraft draft) => new(draft.NextAttemptAt.ToDateTimeOffset() - Start, draft.Title.Code);

    private ServiceFacts Facts(TimeSpan at)
    {
        var failures = _failures.LastOrDefault(one => one.At <= at).Failures;
        var since = _failures.Where(one => one.At <= at && one.Failures > 0).Select(one => (TimeSpan?)one.At).FirstOrDefault();
        return new ServiceFacts(
            !_brokerLost.Exists(one => at >= one.From && at < one.Until),
            ReceivedAt.From(Start),
            new DiskSpace((long)(Disk * (_free.LastOrDefault(one => one.At <= at) is { Share: > 0 } told ? told.Share : 0.5)), Disk),
            _writesFail.Exists(one => at >= one.From && at < one.Until),
            _hasNoBackup ? new BackupFact(null, ReceivedAt.From(Start)) : _backup is { } backup && backup.At <= at ? new BackupFact(ReceivedAt.From(Start + backup.At), ReceivedAt.From(Start), backup.IsSound) : null,
            ValueList.Of(new ChannelFact("relay", failures, failures > 0 && since is { } from ? ReceivedAt.From(Start + from) : null), new ChannelFact("mail", 0, null)));
    }

    private void Take(string[] words, string line)
    {
        switch (words[0])
        {
            case "broker":
                _brokerLost.Add((AlertScenario.Span(words[1]), AlertScenario.Span(words[2])));
                break;
            case "writes-fail":
                _writesFail.Add((AlertScenario.Span(words[1]), AlertScenario.Span(words[2])));
                break;
            case "free":
                _free.Add((AlertScenario.Span(words[1]), double.Parse(words[2], CultureInfo.InvariantCulture)));
                break;
            case "backup":
                _backup = (AlertScenario.Span(words[1]), words.Length == 2);
                break;
            case "no-backup":
                _hasNoBackup = true;
                break;
            case "fails":
                for (var i = 2; i < words.Length; i += 2)
                {
                    _failures.Add((AlertScenario.Span(words[i]), int.Parse(words[i + 1], CultureInfo.InvariantCulture)));
                }

                break;
            case "works":
                _failures.Add((AlertScenario.Span(words[2]), 0));
                break;
            case "says":
                _acts.Add((AlertScenario.Span(words[1]), Enum.Parse<AlertAct>(words[2]), words[3]));
                break;
            case "until":
                _until = AlertScenario.Span(words[1]);
                break;
            case "notice":
                Expected.Add(new ExpectedNotice(AlertScenario.Span(words[1]), words[2]));
                break;
            default:
                throw new FormatException($"A story of the service has no line like '{line}'.");
        }
    }
}
