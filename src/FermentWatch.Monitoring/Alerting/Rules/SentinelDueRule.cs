using System.Globalization;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting.Rules;

/// <summary><c>sentinel-due</c>: days after bottling one bottle, the sentinel, is looked at for gas. The subjects are the days: <c>day-3</c> and so on, and <c>hot-day</c>.</summary>
/// <remarks>Only the newest day that was reached is asked for: a look answers all before it. A batch that leaves its bottles again is no longer watched.</remarks>
public static class SentinelDueRule
{
    /// <summary>Id of the rule.</summary>
    public const string Id = "sentinel-due";

    /// <summary>The catalogue's entry.</summary>
    public static AlertRule Rule { get; } = new(Id, settings => settings.Sentinel.Repeat, OnSamples: null, Tick, Words);

    /// <summary>The newest day that was reached and not answered, and those that lie ahead.</summary>
    public static IEnumerable<Duty> Open(BatchView view, SentinelSettings limits)
    {
        var bottled = view.Journal.LastOrDefault(entry => entry.Kind is JournalKind.Bottled);
        if (!limits.Enabled || bottled is null || view.Stage is not { Stage: BatchStage.BottledWatch })
        {
            return [];
        }

        var marks = limits.Days.Select(day => (Day: day, DueAt: bottled.At + TimeSpan.FromDays(day))).OrderBy(mark => mark.Day).ToList();
        var reached = marks.FindLastIndex(mark => mark.DueAt <= view.Now);
        return Hot(view, bottled, limits).Concat(marks.Skip(Math.Max(0, reached))
            .Where(mark => !view.Journal.Any(entry => entry.Kind is JournalKind.BottleChecked && entry.At >= mark.DueAt - limits.Early))
            .Select(mark => new Duty(
                string.Create(CultureInfo.InvariantCulture, $"day-{mark.Day}"),
                mark.DueAt,
                Reason.Of("sentinel-reached", new ReasonValue.Count(mark.Day), new ReasonValue.Moment(bottled.At)))));
    }

    /// <summary>After a hot day gas comes out and what sleeps may wake: a look of its own, unless there was one since.</summary>
    private static IEnumerable<Duty> Hot(BatchView view, JournalEntry bottled, SentinelSettings limits)
    {
        TemperaturePoint? hot = null;
        foreach (var point in view.Temperature)
        {
            hot = point.At > bottled.At && point.Highest.Celsius >= limits.HotCelsius ? point : hot;
        }

        return hot is { } day && !view.Journal.Any(entry => entry.Kind is JournalKind.BottleChecked && entry.At >= day.At)
            ? [new Duty("hot-day", day.At, Reason.Of("sentinel-hot", new ReasonValue.Degrees(day.Highest.Celsius), new ReasonValue.Moment(day.At)))]
            : [];
    }

    private static TickResult Tick(AlertSet was, BatchView view, AlertSettings settings, Pass pass) =>
        DutyTick.Of(Id, was, view, pass, Open(view, settings.Sentinel));

    private static NoticeWords Words(NoticeSubject about)
    {
        if (about.IsOver)
        {
            return EndedNotice.Words(about);
        }

        var because = about.Because;
        return new NoticeWords(
            Reason.Of(because.Code == "sentinel-hot" ? "title-sentinel-hot" : "title-sentinel", about.Batch, because.Values[0]),
            ValueList.Of(because, Reason.Of("sentinel-look"), Reason.Of("ventilate-first")));
    }
}
