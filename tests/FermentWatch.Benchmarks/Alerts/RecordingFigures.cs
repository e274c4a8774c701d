using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Alerting.Rules;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Backtest;

namespace FermentWatch.Benchmarks.Alerts;

/// <summary>Figures of the alerts on one recording, or, added up, on many.</summary>
internal sealed class RecordingFigures
{
    // Without a night, so that delays tell of the rules.
    private static readonly AlertSettings AtOnce = AlertSettings.Default with { Channels = ValueList.Of<string>("relay"), QuietHours = null };
    private static readonly AlertSettings AsShipped = AlertSettings.Default with { Channels = ValueList.Of<string>("relay") };

    private readonly AlertTally[] _tallies =
    [
        new("temperature-band", "dt", 2), new("  from the true crossing", "dt", double.PositiveInfinity), new("temperature-danger", "dt", 2), new("temperature-drop", "dt", 2),
        new("stuck", "days", 3.5), new("  from its first hour", "days", double.PositiveInfinity), new("ready-to-stabilize", "days", 7), new("sensor-silent", "dt", 2),
    ];

    /// <summary>Notices when nobody answers.</summary>
    public NoticeCount Unanswered { get; } = new();

    /// <summary>Notices when each is answered after an hour.</summary>
    public NoticeCount Answered { get; } = new();

    /// <summary>Alerts that were raised three times within a day.</summary>
    public List<string> Chattering { get; } = [];

    /// <summary>What the looks said.</summary>
    public List<string> Judgments { get; } = [];

    /// <summary>How often each kind of look was taken.</summary>
    public (int Judged, int Glanced, int Ticked) Looks { get; private set; }

    /// <summary>Counts of each alert.</summary>
    public IReadOnlyList<AlertTally> Tallies => _tallies;

    /// <summary>Plays one recording.</summary>
    public static RecordingFigures Of(string path)
    {
        var (recording, truth, mine) = (new Recording(ReplayFolder.Load(path)), FermentTruth.Read(path), new RecordingFigures());
        var (now, unanswered, answered) = (new AlertChain(AtOnce, null), new AlertChain(AsShipped, null), new AlertChain(AsShipped, TimeSpan.FromHours(1)));
        var (told, stuckAt, readyAt) = (new Dictionary<string, ToldAlert>(), new List<(double From, double Until)>(), new List<double>());
        var views = new ReplayViews(recording, ViewSettings.Default with { Alerts = AtOnce });
        EventTime? judged = null;
        foreach (var view in views.All())
        {
            var changes = now.Look(view);
            Note(told, changes, view.Now);
            var hours = (view.Now - truth.InoculatedAt).TotalHours;
            FinishJudge.Note(stuckAt, changes, view, hours);
            readyAt.AddRange(changes.Where(one => FinishJudge.Tells(one, FinishRules.ReadyId, view)).Select(_ => hours));
            unanswered.Look(view);
            answered.Look(view);
            if (view.Forecast?.AsOf != judged || changes.Count > 0)
            {
                mine.Judgments.Add(FinishJudge.Judgment(view, changes, truth));
                judged = view.Forecast?.AsOf;
            }
        }

        mine.Looks = views.Counts;
        var temperature = new TemperatureJudge(recording, new TrueTemperature(path, truth), [.. told.Values], AtOnce);
        temperature.Band(mine._tallies[0], mine._tallies[1]);
        temperature.Danger(mine._tallies[2]);
        temperature.Drop(mine._tallies[3]);
        FinishJudge.Judge(truth, stuckAt, readyAt, mine._tallies[4], mine._tallies[5], mine._tallies[6]);
        SilenceJudge.Judge(recording, recording.Cuts.First(), [.. told.Values.Where(one => one.Rule == SensorSilentRule.Id).Select(one => (one.Subject, one.RaisedAt))], mine._tallies[7]);
        mine.Unanswered.Add(unanswered, recording);
        mine.Answered.Add(answered, recording);
        mine.Chattering.AddRange(told.Values.GroupBy(one => (one.Rule, one.Subject)).Where(IsChattering).Select(one => $"{recording.Name} {one.Key.Rule}"));
        return mine;
    }

    /// <summary>Adds another recording.</summary>
    public void Add(RecordingFigures other)
    {
        foreach (var (mine, its) in _tallies.Zip(other._tallies))
        {
            mine.Add(its);
        }

        Unanswered.Add(other.Unanswered);
        Answered.Add(other.Answered);
        Chattering.AddRange(other.Chattering);
        Judgments.AddRange(other.Judgments);
        Looks = (Looks.Judged + other.Looks.Judged, Looks.Glanced + other.Looks.Glanced, Looks.Ticked + other.Looks.Ticked);
    }

    private static bool IsChattering(IEnumerable<ToldAlert> told)
    {
        var raised = told.Select(one => one.RaisedAt).Order().ToList();
        return raised.Zip(raised.Skip(2)).Any(pair => pair.Second - pair.First < Monitoring.Alerting.Chattering.Window);
    }

    private static void Note(Dictionary<string, ToldAlert> told, ValueList<AlertTransition> changes, EventTime now)
    {
        foreach (var change in changes)
        {
            if (change.Kind is TransitionKind.Raised)
            {
                told.TryAdd(change.Alert.Key, new ToldAlert(change.Alert.Rule, change.Alert.Subject, change.Alert.BeganAt, now, null));
            }
            else if (change.Kind is TransitionKind.Cleared or TransitionKind.Withdrawn && told.TryGetValue(change.Alert.Key, out var alert))
            {
                told[change.Alert.Key] = alert with { EndedAt = now };
            }
        }
    }
}
