using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Batches.Cleaning;

/// <summary>Puts into words what cleaning did: points set aside with reasons, and events found in the readings.</summary>
internal static class GravityFindings
{
    /// <summary>A sensor that is off by less is as good as the hand reading. [points]</summary>
    private const double LeastAnchored = 1;

    /// <summary>Most points set aside that a view carries.</summary>
    public const int MostSetAside = 500;

    public static ReadingCounts Counts(GravityPicture picture)
    {
        var (stored, aside) = (picture.Hand.Stored, picture.Hand.SetAside.Count);
        foreach (var track in picture.Tracks)
        {
            stored += track.Count;
            foreach (var mark in track.Marks)
            {
                aside += mark == Mark.Kept ? 0 : 1;
            }
        }

        return new ReadingCounts(stored, aside);
    }

    public static ValueList<SetAsidePoint> SetAside(GravityPicture picture, EventTime inoculatedAt)
    {
        var points = new List<SetAsidePoint>(picture.Hand.SetAside);
        foreach (var track in picture.Tracks)
        {
            var added = 0;
            for (var i = track.Count - 1; i >= 0 && added < MostSetAside; i--)
            {
                if (track.Marks[i] != Mark.Kept)
                {
                    points.Add(new SetAsidePoint(track.Readings[i].At, GravityBins.ToGravity(track.Points[i]), Because(track, i, inoculatedAt)));
                    added++;
                }
            }
        }

        points.Sort(Compare);
        return ValueList.Of(points.Count <= MostSetAside ? points : points.GetRange(points.Count - MostSetAside, MostSetAside));
    }

    /// <summary>What was found in the readings; sugar only where the journal does not tell of it.</summary>
    public static List<TimelineEvent> Events(GravityPicture picture, IReadOnlyList<JournalEntry> journal)
    {
        var events = new List<TimelineEvent>();
        foreach (var rise in picture.Sugar)
        {
            if (IsTold(rise, journal))
            {
                continue;
            }

            events.Add(new TimelineEvent(rise.At, null, Reason.Of(ReasonCodes.EventSugarFound, Difference(rise.Points))));
        }

        foreach (var track in picture.Tracks)
        {
            foreach (var step in track.Steps)
            {
                if (!step.IsSugar)
                {
                    events.Add(new TimelineEvent(
                        track.Readings[step.Index].At,
                        null,
                        Reason.Of(ReasonCodes.EventStep, Difference(step.Offset))));
                }
            }

            if (track.PointsPerCelsius is not 0 and var effect)
            {
                events.Add(new TimelineEvent(
                    track.Readings[0].At, null, Reason.Of(ReasonCodes.EventTemperatureEffect, Difference(effect), new ReasonValue.Degrees(TemperatureEffect.ReferenceCelsius))));
            }

            foreach (var spell in track.Spells)
            {
                var code = spell.Mark switch
                {
                    Mark.Foam => ReasonCodes.EventFoam,
                    Mark.Mixing => ReasonCodes.EventMixing,
                    _ => ReasonCodes.EventHandling,
                };
                events.Add(new TimelineEvent(track.Readings[spell.First].At, null, Reason.Of(code, Length(track, spell))));
            }
        }

        foreach (var pair in picture.Anchors)
        {
            var apart = pair.SensorPoints - pair.Points;
            if (Math.Abs(apart) >= LeastAnchored)
            {
                events.Add(new TimelineEvent(pair.At, null, Reason.Of(pair.IsUsed ? ReasonCodes.EventAnchored : pair.IsGassy ? ReasonCodes.EventNotAnchoredGas : ReasonCodes.EventNotAnchored, Difference(apart))));
            }
        }

        return events;
    }

    private static bool IsTold(SugarRise rise, IReadOnlyList<JournalEntry> journal)
    {
        foreach (var entry in journal)
        {
            if (entry.Kind == JournalKind.SugarAdded && (entry.At - rise.At).Duration() <= TimeSpan.FromHours(GravityCleaner.JournalReach))
            {
                return true;
            }
        }

        return false;
    }

    private static Reason Because(GravityTrack track, int index, EventTime inoculatedAt) => track.Marks[index] switch
    {
        Mark.Spike => Reason.Of(ReasonCodes.SetAsideSpike, Difference(track.SpikeSizes.GetValueOrDefault(index))),
        Mark.Foam => Reason.Of(ReasonCodes.SetAsideFoam, LengthAt(track, index)),
        Mark.Handling => Reason.Of(ReasonCodes.SetAsideHandling, LengthAt(track, index)),
        Mark.Mixing => Reason.Of(ReasonCodes.SetAsideMixing, LengthAt(track, index)),
        Mark.BeyondCalibration => Reason.Of(ReasonCodes.SetAsideBeyondCalibration),
        Mark.BeforeInoculation => Reason.Of(ReasonCodes.SetAsideBeforeInoculation, new ReasonValue.Moment(inoculatedAt)),
        _ => Reason.Of(ReasonCodes.SetAsideImpossible, new ReasonValue.Gravity(1 + (track.Points[index] / 1000))),
    };

    private static ReasonValue.Gravity Difference(double points) => new(points / 1000, IsDifference: true);

    private static ReasonValue.Length LengthAt(GravityTrack track, int index)
    {
        foreach (var spell in track.Spells)
        {
            if (index >= spell.First && index <= spell.Last && spell.Mark == track.Marks[index])
            {
                return Length(track, spell);
            }
        }

        return new ReasonValue.Length(TimeSpan.Zero);
    }

    private static ReasonValue.Length Length(GravityTrack track, Spell spell) =>
        new(track.Readings[spell.Last].At - track.Readings[spell.First].At);

    private static int Compare(SetAsidePoint left, SetAsidePoint right)
    {
        var order = left.At.CompareTo(right.At);
        order = order != 0 ? order : left.Gravity.CompareTo(right.Gravity);
        return order != 0 ? order : string.CompareOrdinal(left.Because.Code, right.Because.Code);
    }
}
