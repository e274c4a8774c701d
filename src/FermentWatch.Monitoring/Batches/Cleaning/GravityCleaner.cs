using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Batches.Cleaning;

/// <summary>Cleans the gravity of one sensor: marks what is left out, with the reason, and moves readings back after a knock.</summary>
internal static class GravityCleaner
{
    /// <summary>How near a journal entry must be to explain a jump. [h]</summary>
    public const double JournalReach = 12;

    private const int MostRounds = 12;

    /// <summary>Cleans the readings of one sensor.</summary>
    /// <param name="readings">In event order, each once.</param>
    /// <param name="inoculatedAt">When the yeast went in.</param>
    /// <param name="journal">Entries that count.</param>
    /// <param name="temperature">Temperature by the same sensor, in event order.</param>
    public static GravityTrack Clean(Reading[] readings, EventTime inoculatedAt, IReadOnlyList<JournalEntry> journal, Reading[] temperature)
    {
        var track = new GravityTrack(readings, inoculatedAt) { MedianInterval = Intervals.MedianHours(readings) };
        RubbishFilter.SetAsideImpossible(track);
        for (var i = 0; i < track.Count && track.Hours[i] < 0; i++)
        {
            track.Marks[i] = track.Marks[i] == Mark.Kept ? Mark.BeforeInoculation : track.Marks[i];
        }

        SpikeFilter.Apply(track);
        RubbishFilter.SetAsideHandling(track);
        if (!double.IsNaN(track.MedianInterval))
        {
            SettleSteps(track, inoculatedAt, journal);
        }

        if (TemperatureEffect.PointsPerCelsius(track, temperature) is { } effect)
        {
            track.PointsPerCelsius = effect;
            TemperatureEffect.Remove(track, temperature, effect);
        }

        return track;
    }

    private static void SettleSteps(GravityTrack track, EventTime inoculatedAt, IReadOnlyList<JournalEntry> journal)
    {
        for (var round = 0; round < MostRounds; round++)
        {
            var kept = track.KeptPositions();
            var hours = new double[kept.Length];
            var points = new double[kept.Length];
            for (var i = 0; i < kept.Length; i++)
            {
                hours[i] = track.Hours[kept[i]];
                points[i] = track.Points[kept[i]];
            }

            var sums = new LineSums(hours, points);
            var finder = new StepFinder(sums, track.MedianInterval, (from, until) => IsHandled(track, from, until));
            var jumps = finder.Find();
            var isLast = round + 1 == MostRounds;
            bool IsTold(double at) => HasEntryNear(journal, JournalKind.SugarAdded, inoculatedAt, at);
            if (!isLast && MixingFinder.Find(jumps, IsTold, onlyTold: true) is { } told)
            {
                track.SetAside(kept[told.First], kept[told.Last], Mark.Mixing);
                continue;
            }

            var unclear = new HashSet<int>();
            var candidates = WithoutSugar(jumps, inoculatedAt, journal);
            if (ExcursionFinder.Find(sums, candidates, finder.Correlation, unclear) is { } excursion && !isLast)
            {
                track.SetAside(kept[excursion.First], kept[excursion.Last], excursion.IsUpward ? Mark.Foam : Mark.Handling);
                continue;
            }

            if (!isLast && MixingFinder.Find(jumps, IsTold, onlyTold: false) is { } mixing)
            {
                track.SetAside(kept[mixing.First], kept[mixing.Last], Mark.Mixing);
                continue;
            }

            // What may be the end of foam and may be a knock is left as it is: a wrong correction would stay for good.
            jumps.RemoveAll(jump => unclear.Contains(jump.Index));
            Correct(track, kept, jumps, inoculatedAt, journal);
            return;
        }
    }

    private static bool IsHandled(GravityTrack track, double from, double until) => track.Spells.Exists(spell =>
        spell.Mark is Mark.Handling or Mark.Mixing && track.Hours[spell.First] > from && track.Hours[spell.Last] < until);

    private static bool WasMixing(GravityTrack track, int index) => track.Spells.Exists(spell =>
        spell.Mark is Mark.Mixing && spell.Last < index && track.Hours[index] - track.Hours[spell.Last] <= 2 * Math.Max(track.MedianInterval, 1));

    private static List<Jump> WithoutSugar(List<Jump> jumps, EventTime inoculatedAt, IReadOnlyList<JournalEntry> journal) =>
        jumps.FindAll(jump => jump.Offset < 0 || !HasEntryNear(journal, JournalKind.SugarAdded, inoculatedAt, jump.Hours));

    private static bool HasEntryNear(IReadOnlyList<JournalEntry> journal, JournalKind kind, EventTime inoculatedAt, double hours)
    {
        foreach (var entry in journal)
        {
            if (entry.Kind == kind && Math.Abs((entry.At - inoculatedAt).TotalHours - hours) <= JournalReach)
            {
                return true;
            }
        }

        return false;
    }

    // A rise in several readings is one event: sugar dissolves while the sensor sends.
    private static void Correct(GravityTrack track, int[] kept, List<Jump> jumps, EventTime inoculatedAt, IReadOnlyList<JournalEntry> journal)
    {
        const double Together = 6;
        for (var i = 0; i < jumps.Count;)
        {
            var last = i;
            var total = jumps[i].Offset;
            while (last + 1 < jumps.Count
                && jumps[last + 1].Hours - jumps[last].Hours <= Together
                && Math.Sign(jumps[last + 1].Offset) == Math.Sign(total))
            {
                last++;
                total += jumps[last].Offset;
            }

            var isSugar = total > 0
                && (total >= ExcursionFinder.SugarRise
                    || HasEntryNear(journal, JournalKind.SugarAdded, inoculatedAt, jumps[i].Hours)
                    || WasMixing(track, kept[jumps[i].Index]));
            track.Steps.Add(new Step(kept[jumps[i].Index], total, isSugar));
            for (var j = i; j <= last && !isSugar; j++)
            {
                for (var k = kept[jumps[j].Index]; k < track.Count; k++)
                {
                    track.Shift[k] += jumps[j].Offset;
                }
            }

            i = last + 1;
        }
    }
}
