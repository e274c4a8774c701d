using System.Globalization;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting.Rules;

/// <summary>
/// <c>nutrient-due</c>: a part of the plan in the journal comes up, is reached, or was missed. The subjects are <c>part-2-ahead</c>,
/// <c>part-2</c> and <c>part-2-missed</c>.
/// </summary>
/// <remarks>By gravity where a sensor tells it, with the forecast's own ways on for the part to come; else by the clock. Common practice, no source.</remarks>
public static class NutrientDueRule
{
    /// <summary>Id of the rule.</summary>
    public const string Id = "nutrient-due";

    /// <summary>The catalogue's entry.</summary>
    public static AlertRule Rule { get; } = new(Id, settings => settings.Nutrient.Repeat, OnSamples: null, Tick, Words);

    /// <summary>The next part that is not given, with when it comes up (8 in 10) as far as that can be told; null where nothing is planned.</summary>
    public static (PlannedPart Part, (EventTime Early, EventTime Middle, EventTime Late)? When)? Next(BatchView view)
    {
        ArgumentNullException.ThrowIfNull(view);
        if (view.Stage is { Stage: not BatchStage.Fermenting } || PlannedNutrients.Of(view) is not { } plan || plan.Parts.FirstOrDefault(part => part.Part > plan.Given) is not { } next)
        {
            return null;
        }

        var gravity = Lately(view, plan);
        return (next, IsReached(next, gravity, view.Now) ? (view.Now, view.Now, view.Now) : Window(next, gravity, view));
    }

    /// <summary>The next part as something with a date, where the clock alone tells when; null where gravity does, since that date sways.</summary>
    public static Duty? ByTheClock(BatchView view)
    {
        if (Next(view) is not { Part: var part } || PlannedNutrients.Of(view) is not { } plan || (part.Gravity is not null && Lately(view, plan) is not null))
        {
            return null;
        }

        return new Duty(SubjectOf(part, ""), part.DueAt, Because(part, "nutrient-reached", part.DueAt, part.DueAt));
    }

    /// <summary>The next part where gravity tells when, with the range of the forecast's ways on; null where only the clock does, or fewer than half of them get there.</summary>
    public static NutrientDate? ByGravity(BatchView view)
    {
        if (Next(view) is not { Part: { Gravity: { } mark } part } || PlannedNutrients.Of(view) is not { } plan || Lately(view, plan) is not { } gravity)
        {
            return null;
        }

        if (IsReached(part, gravity, view.Now))
        {
            return new NutrientDate(plan.MadeAt, part, new NutrientRange(view.Now, view.Now, view.Now, IsReached: true));
        }

        // A way that never gets there is there later than any other.
        var times = (view.Forecast?.Futures ?? ValueList.Of<FutureCurve>())
            .Select(future => future.Points.Where(point => point.Gravity.Points <= mark.Points).Select(point => (EventTime?)point.At).FirstOrDefault())
            .OrderBy(at => at is null).ThenBy(at => at).ToList();
        return times.Count > 0 && times[times.Count / 20] is { } early && times[times.Count / 2] is { } middle
            ? new NutrientDate(plan.MadeAt, part, new NutrientRange(middle, early, times[times.Count - 1 - (times.Count / 20)], IsReached: false))
            : null;
    }

    /// <summary>That date as something to do.</summary>
    public static Duty DutyOf(NutrientDate date)
    {
        ArgumentNullException.ThrowIfNull(date);
        ReasonValue part = new ReasonValue.Count(date.Part.Part), parts = new ReasonValue.Count(date.Part.Parts), grams = new ReasonValue.Figure(date.Part.Grams, 1);
        var (middle, early) = (new ReasonValue.Moment(date.When.Middle), new ReasonValue.Moment(date.When.Early));
        var because = date.When.IsReached ? Because(date.Part, "nutrient-reached", date.When.Middle, date.When.Middle)
            : date.When.Late is { } late ? Reason.Of("nutrient-mark", part, parts, grams, middle, early, new ReasonValue.Moment(late))
            : Reason.Of("nutrient-mark-open", part, parts, grams, middle, early);
        return new Duty(SubjectOf(date.Part, ""), date.When.Middle, because);
    }

    private static TickResult Tick(AlertSet was, BatchView view, AlertSettings settings, Pass pass)
    {
        var standing = pass.ClockTrusted ? Find(was, view, settings.Nutrient, pass).ToList() : [];
        var given = PlannedNutrients.Of(view)?.Given ?? 0;
        var ended = was.Alerts
            .Where(alert => alert.Rule == Id && alert.Standing is AlertStanding.Raised)
            .ToDictionary(alert => alert.Subject, alert => PartOf(alert.Subject) <= given ? Reason.Of("duty-done", new ReasonValue.Moment(view.Now))
                : standing.Exists(one => PartOf(one.Subject) == PartOf(alert.Subject)) ? EndedNotice.ToldOn
                : Reason.Of("nutrient-moved-on", new ReasonValue.Moment(view.Now)));
        return new TickResult(was, standing, ended);
    }

    private static IEnumerable<AlertEpisode> Find(AlertSet was, BatchView view, NutrientSettings limits, Pass pass)
    {
        if (!limits.Enabled || view.Stage is { Stage: not BatchStage.Fermenting } || PlannedNutrients.Of(view) is not { } plan || plan.Parts.Count == 0)
        {
            yield break;
        }

        var gravity = Lately(view, plan);
        var reached = plan.Parts.LastOrDefault(part => IsReached(part, gravity, view.Now));
        if (reached is not null && reached.Part > plan.Given)
        {
            var past = Past(reached, gravity, plan, view.Now);
            if (past < 1)
            {
                var code = past < limits.MissedAt ? "nutrient-reached" : "nutrient-missed";
                yield return Episode(reached, code, code == "nutrient-missed" ? "-missed" : "", view, reached.DueAt, reached.DueAt);
                yield break;
            }
        }

        var next = plan.Parts.FirstOrDefault(part => part.Part > Math.Max(plan.Given, reached?.Part ?? 0));
        if (next is not null && Window(next, gravity, view) is var (early, middle, late))
        {
            var wait = middle - view.Now;
            var evening = TimeZoneInfo.ConvertTime(view.Now.ToDateTimeOffset(), pass.Zone).Hour >= limits.EveningFrom;
            // What was told in the evening stays told after midnight, though the forecast sways.
            var isTold = was.Alerts.Any(alert => alert.Rule == Id && alert.Standing is AlertStanding.Raised && alert.Subject == SubjectOf(next, "-ahead"));
            if (isTold || (wait > TimeSpan.Zero && wait <= (evening ? limits.AheadInTheEvening : limits.Ahead)))
            {
                yield return Episode(next, evening ? "nutrient-ahead" : "nutrient-ahead-today", "-ahead", view, early, late);
            }
        }
    }

    /// <summary>Gravity that counts: at least two readings, as a point of the curve holds them, not older than the sensor may be silent; null where only the clock tells.</summary>
    private static double? Lately(BatchView view, PlannedNutrients plan)
    {
        if (plan.StepPoints is null || view.Gravity.Count < 2 || view.Phase.Phase is Phase.Unknown)
        {
            return null;
        }

        var (last, before) = (view.Gravity[^1], view.Gravity[^2]);
        return last.Count >= 2 ? last.Gravity.Points : Math.Max(last.Gravity.Points, before.Gravity.Points);
    }

    private static bool IsReached(PlannedPart part, double? gravity, EventTime now) =>
        part.Gravity is { } mark && gravity is { } points ? points <= mark.Points : now >= part.DueAt;

    /// <summary>How far past its mark, as a share of the step to the next one.</summary>
    private static double Past(PlannedPart part, double? gravity, PlannedNutrients plan, EventTime now) =>
        part.Gravity is { } mark && gravity is { } points && plan.StepPoints is { } step
            ? (mark.Points - points) / step
            : (now - part.DueAt) / plan.Between;

    /// <summary>When a part comes up: the middle eight in ten of the forecast's ways on; null where fewer than half of them get there.</summary>
    private static (EventTime Early, EventTime Middle, EventTime Late)? Window(PlannedPart part, double? gravity, BatchView view)
    {
        if (part.Gravity is not { } mark || gravity is null)
        {
            return (part.DueAt, part.DueAt, part.DueAt);
        }

        var futures = view.Forecast?.Futures ?? ValueList.Of<FutureCurve>();
        var times = futures.Select(future => future.Points.FirstOrDefault(point => point.Gravity.Points <= mark.Points)).Where(point => point != default).Select(point => point.At).Order().ToList();
        return times.Count == 0 || times.Count * 2 < futures.Count ? null : (times[times.Count / 10], times[times.Count / 2], times[times.Count - 1 - (times.Count / 10)]);
    }

    private static AlertEpisode Episode(PlannedPart part, string code, string phase, BatchView view, EventTime early, EventTime late)
    {
        var because = Because(part, code, early, late);
        return new AlertEpisode(Id, SubjectOf(part, phase), Severity.Action, view.Now, view.Now, ClearedAt: null, because) { EvidenceAt = view.Now };
    }

    private static Reason Because(PlannedPart part, string code, EventTime early, EventTime late) => Reason.Of(
        code, new ReasonValue.Count(part.Part), new ReasonValue.Count(part.Parts), new ReasonValue.Figure(part.Grams, 1), new ReasonValue.Moment(early), new ReasonValue.Moment(late));

    private static string SubjectOf(PlannedPart part, string phase) => string.Create(CultureInfo.InvariantCulture, $"part-{part.Part}{phase}");

    private static int PartOf(string subject) => int.Parse(subject.Split('-')[1], CultureInfo.InvariantCulture);

    private static NoticeWords Words(NoticeSubject about)
    {
        if (about.IsOver)
        {
            return EndedNotice.Words(about);
        }

        var because = about.Because;
        var code = because.Code is "nutrient-ahead-today" or "nutrient-mark" or "nutrient-mark-open" ? "nutrient-ahead" : because.Code;
        return new NoticeWords(
            Reason.Of("title-" + code, about.Batch, because.Values[0], because.Values[2]),
            ValueList.Of(because, Reason.Of("ventilate-first"), Reason.Of("act-" + code)));
    }
}
