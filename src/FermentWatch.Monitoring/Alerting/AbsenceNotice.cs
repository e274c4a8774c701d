using System.Globalization;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting;

/// <summary>After a stretch in which this program did not run: one message on what was missed, once late readings had time to come in.</summary>
internal static class AbsenceNotice
{
    /// <summary>Begins an absence at the first pass after it, counts what is found to lie in it, and ends it when late readings are in.</summary>
    /// <returns>The absence that is still to be told of, and the line that tells of it now.</returns>
    public static (Absence? Absence, NoticeLine? Line) Move(
        NoticeLedger was,
        IReadOnlyList<(BatchView View, StepResult Result)> batches,
        IReadOnlyList<NoticeUnit> units,
        AlertSettings settings,
        Pass pass)
    {
        var absence = was.Absence;
        if (pass is { IsFirst: true, ClockTrusted: true } && was.SeenAt is { } seen && pass.Now - seen >= settings.Limits.AwayAtLeast)
        {
            // Killed again before it could tell: one stretch of both.
            absence = new Absence(absence?.From ?? seen, pass.Now, absence?.Past ?? 0);
        }

        if (absence is null)
        {
            return (null, null);
        }

        absence = absence with { Past = absence.Past + units.Where(unit => unit.Line.Kind is TransitionKind.FoundInPast).Sum(unit => unit.Members.Count) };
        var isOver = pass.Now - absence.Until >= settings.Limits.AwaySettles || pass.Now < absence.Until;
        return isOver && pass.ClockTrusted ? (null, batches.Count == 0 ? null : Line(absence, batches, pass)) : (absence, null);
    }

    private static NoticeLine Line(Absence absence, IReadOnlyList<(BatchView View, StepResult Result)> batches, Pass pass)
    {
        var (from, until) = (Moment(absence.From), Moment(absence.Until));
        var series = batches.SelectMany(batch => batch.View.Sensors).DistinctBy(status => (status.Sensor, status.Quantity)).ToList();
        var lost = series.Count(status => !IsCovered(status, absence));
        var isGood = absence.Past == 0 && lost == 0;
        return new NoticeLine(
            ValueList.Of<string>([AlertOf(absence)]),
            batches[0].View.Batch.Id,
            "away",
            TransitionKind.FoundInPast,
            isGood ? Severity.Info : Severity.Action,
            StateNumber: 0,
            "away",
            pass.Now,
            Reason.Of("title-away", new ReasonValue.Length(absence.Until - absence.From)),
            ValueList.Of<Reason>(
            [
                Reason.Of("away", from, until),
                absence.Past == 0 ? Reason.Of("away-no-alerts") : Reason.Of("away-alerts", new ReasonValue.Count(absence.Past)),
                series.Count == 0 ? Reason.Of("away-no-sensors")
                    : lost == 0 ? Reason.Of("away-covered")
                    : Reason.Of("away-lost", new ReasonValue.Count(lost), new ReasonValue.Count(series.Count)),
                Reason.Of(isGood ? "nothing-to-do" : "away-look"),
            ]));
    }

    /// <summary>Whether readings of the stretch came in afterwards: stored by the device or kept by the broker, so late and not silent.</summary>
    private static bool IsCovered(SensorStatus status, Absence absence)
    {
        var (from, until) = (new EventTime(absence.From.UnixMicroseconds), new EventTime(absence.Until.UnixMicroseconds));
        var length = until - from;
        // Seldom heard by its own habit: nothing was to be expected.
        return status.MedianInterval >= length
            || (status.LastAt > from && status.Gaps.All(gap => Overlap(gap, from, until) <= length / 2));
    }

    private static TimeSpan Overlap(Gap gap, EventTime from, EventTime until) =>
        (gap.Until < until ? gap.Until : until) - (gap.From > from ? gap.From : from);

    /// <summary>What stands for the absence where an alert's key would be.</summary>
    private static string AlertOf(Absence absence) => string.Create(CultureInfo.InvariantCulture, $"away/{absence.From.UnixMicroseconds}");

    private static ReasonValue.Moment Moment(ReceivedAt at) => new(new EventTime(at.UnixMicroseconds));
}
